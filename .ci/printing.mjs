// Prints a page to PDF in a browser that is warm: launched, and the page printed once
// before. Writes the milliseconds that each of N further prints took, from opening the
// page to the finished PDF, as JSON: node printing.mjs PAGE.html letter N
import { pathToFileURL } from 'node:url';
import { launch } from './chromium.mjs';

const [file, format, times] = process.argv.slice(2);
const browser = await launch();
const page = await browser.newPage();
const took = [];
let bytes = 0;
for (let i = 0; i <= Number(times); i++) {
  const began = performance.now();
  await page.goto(pathToFileURL(file).href);
  bytes = (await page.pdf({ format, preferCSSPageSize: true })).length;
  if (i > 0) took.push(performance.now() - began);
}
await browser.close();
console.log(JSON.stringify({ took, bytes }));
