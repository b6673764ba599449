// Asks whether the guide changed, and loads the page again when it did. A page that nobody
// looks at does not ask: browsers open few connections to one address.
(function () {
  "use strict";
  var have = document.currentScript.dataset.version;
  var asking = false;
  function gone(yes) {
    var note = document.getElementById("preview-gone");
    if (note) note.hidden = !yes;
  }
  function ask() {
    if (asking || document.visibilityState !== "visible") return;
    asking = true;
    fetch("/changes?have=" + encodeURIComponent(have), { cache: "no-store" })
      .then(function (answer) {
        if (!answer.ok) throw new Error(answer.status);
        return answer.text();
      })
      .then(function (version) {
        asking = false;
        gone(false);
        if (version !== have) location.reload();
        else setTimeout(ask, 50);
      })
      .catch(function () {
        asking = false;
        gone(true);
        setTimeout(ask, 2000);
      });
  }
  document.addEventListener("visibilitychange", ask);
  ask();
})();
