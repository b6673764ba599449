package main

import (
	"context"
	"errors"
	"fmt"
	"os/signal"
	"syscall"

	"shedwall/cmd/shedwall/internal/preview"
	"shedwall/cmd/shedwall/internal/publish"
)

// PreviewCmd shows the guide in the browser while it is being edited.
type PreviewCmd struct {
	Guide  string `help:"Folder of the guide." default:"." type:"existingdir"`
	Listen string `help:"Where the browser finds it, on this machine only; port 0 takes any that is free." default:"127.0.0.1:8420" placeholder:"127.0.0.1:PORT"`
}

// Run serves pages until it is interrupted, and writes nothing. Faults of the guide end
// nothing: they are shown on the pages and told here.
func (c *PreviewCmd) Run(e *env) error {
	guide, err := e.guideFolder(c.Guide)
	if err != nil {
		return err
	}
	ctx, stop := signal.NotifyContext(context.Background(), syscall.SIGINT, syscall.SIGTERM)
	defer stop()
	l, err := preview.Listen(c.Listen)
	if errors.Is(err, preview.ErrAddress) {
		return usageError{err}
	}
	if err != nil {
		return err
	}
	fmt.Fprintf(e.stderr, "preview at %s (Ctrl-C ends it)\n", preview.Address(l))
	return preview.Serve(ctx, l, publish.OpenLive(guide, e.defaults), e.stderr)
}
