// One browser for all checks, cut off from everything but the files it is given.
import { chromium } from 'playwright-core';

const flags = [
  '--headless',
  '--no-sandbox',
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
  '--js-flags=--no-opt', // every page is left again before faster code has paid for its making
];

// launch starts the system's Chromium; SHEDWALL_CHROMIUM names another one.
export function launch() {
  return chromium.launch({ executablePath: process.env.SHEDWALL_CHROMIUM || '/usr/bin/chromium', args: flags });
}
