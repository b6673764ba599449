// One browser for all checks, cut off from everything but the files it is given.
import { existsSync } from 'node:fs';
import { chromium } from 'playwright-core';

// Of features the last list wins, so what playwright leaves out comes first. A spare process
// for the next page is never used by pages from the disk, and is made and ended for each.
const without = [
  'AvoidUnnecessaryBeforeUnloadCheckSync',
  'DestroyProfileOnBrowserClose',
  'HttpsUpgrades',
  'HttpsFirstBalancedModeAutoEnable',
  'MediaRouter',
  'PaintHolding',
  'ThirdPartyStoragePartitioning',
  'OptimizationHints',
  'NetworkTimeServiceQuerying',
  'AimEnabled',
  'PreconnectToSearch',
  'SpareRendererForSitePerProcess',
];
const flags = [
  '--headless',
  '--no-sandbox',
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
  '--font-render-hinting=slight', // without a window letters would else be widened to whole pixels, on paper too
  '--js-flags=--no-opt', // every page is left again before faster code has paid for its making
  `--disable-features=${without}`,
];

// The same Chromium without windows and buttons, which are drawn for nothing where nobody
// looks, takes a quarter less time.
const programs = ['/usr/bin/chromium-headless-shell', '/usr/bin/chromium'];

// launch starts the system's Chromium; SHEDWALL_CHROMIUM names another one.
export function launch() {
  return chromium.launch({ executablePath: process.env.SHEDWALL_CHROMIUM || programs.find(existsSync), args: flags });
}
