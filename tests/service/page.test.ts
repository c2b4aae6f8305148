/** The page in Chromium, from the drop of a drawing to the download of its layout. */

import { existsSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { type Browser, chromium, type Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, vi } from 'vitest';
import { newKey } from '../../src/service/index.js';
import { itNeeds } from '../read/samples.js';
import { WORKER_URL } from '../support/dist.js';
import { ROOT } from '../support/repository.js';
import { freshFolder, type Served, served } from './served.js';

const CHROMIUM = ['/usr/bin/chromium', '/usr/bin/chromium-browser'].find((path) => existsSync(path)) ?? null;
const itWithChromium = itNeeds(CHROMIUM !== null, 'chromium');
const DRAWING = `${ROOT}fixtures/07-questions-to-answer/weir-store.dxf`;

const folder = freshFolder();
let browser: Browser | null = null;
let service: Served;
beforeAll(async () => {
  if (CHROMIUM === null) return;
  service = await served({ workerUrl: WORKER_URL, limits: { timeS: 60 } });
  browser = await chromium.launch({ executablePath: CHROMIUM, args: ['--no-sandbox'] });
}, 60_000);
afterAll(async () => {
  await browser?.close();
  await service?.end();
  rmSync(folder, { recursive: true, force: true });
});

const opened = async (url: string, width = 1280, scheme: 'light' | 'dark' = 'light') => {
  const context = await browser!.newContext({ viewport: { width, height: 900 }, colorScheme: scheme });
  const page = await context.newPage();
  const outside: string[] = [];
  const complaints: string[] = [];
  page.on('request', (request) => {
    if (!request.url().startsWith(url)) outside.push(request.url());
  });
  page.on('console', (message) => complaints.push(message.text()));
  page.on('pageerror', (error) => complaints.push(error.message));
  await page.goto(url);
  return { page, outside, complaints };
};

const inPage = <T>(page: Page, code: string): Promise<T> => page.evaluate<T>(code);
/** The page's policy lets no text become script, so that the page cannot be asked to wait for one. */
const until = (page: Page, code: string) =>
  vi.waitFor(async () => expect(await inPage(page, code), code).toBe(true), { timeout: 10_000, interval: 100 });
const overflow = (page: Page) => inPage<number>(page, 'document.documentElement.scrollWidth - innerWidth');
const focused = (page: Page) => inPage<string>(page, 'document.activeElement.id');

/** Drops a file on the page as a person does. */
const drop = async (page: Page, path: string, name: string): Promise<void> => {
  const content = JSON.stringify(readFileSync(path, 'latin1'));
  await inPage(
    page,
    `(() => {
      const held = new DataTransfer();
      held.items.add(new File([Uint8Array.from(${content}, (c) => c.charCodeAt(0))], ${JSON.stringify(name)}));
      document.getElementById('drop').dispatchEvent(new DragEvent('drop', { dataTransfer: held, bubbles: true, cancelable: true }));
    })()`,
  );
};

/** Texts on a page whose contrast is below 4.5 : 1 (WCAG 2.1, 1.4.3), by the formula of its glossary ("contrast ratio"). */
const PALE = `(() => {
  const parse = (c) => c.match(/[\\d.]+/g).map(Number);
  const lum = ([r, g, b]) => [r, g, b].map((v) => v / 255).map((v) => v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4).reduce((s, v, i) => s + v * [0.2126, 0.7152, 0.0722][i], 0);
  const ground = (e) => { for (; e; e = e.parentElement) { const c = parse(getComputedStyle(e).backgroundColor); if (c.length === 3 || c[3] === 1) return c; } return [255, 255, 255]; };
  const out = [];
  for (const e of document.querySelectorAll('body *')) {
    if (e.closest('svg') || !e.checkVisibility() || ![...e.childNodes].some((n) => n.nodeType === 3 && n.textContent.trim() !== '')) continue;
    if (e.closest('.skip')) continue;
    const [a, b] = [lum(parse(getComputedStyle(e).color)), lum(ground(e))].sort((x, y) => y - x);
    if ((a + 0.05) / (b + 0.05) < 4.5) out.push(e.tagName + ' ' + e.className + ' ' + e.textContent.slice(0, 40));
  }
  return out;
})()`;

/** Fields without a label, pictures without words, ids that are there twice. */
const UNNAMED = `[
  ...[...document.querySelectorAll('input:not([hidden]), select, textarea')].filter((e) => e.labels.length === 0).map((e) => 'no label: ' + e.id),
  ...[...document.querySelectorAll('img:not([alt])')].map((e) => 'no words: ' + e.src),
  ...[...document.querySelectorAll('button')].filter((e) => (e.getAttribute('aria-label') ?? e.textContent).trim() === '').map(() => 'button without a name'),
  ...[...document.querySelectorAll('[id]')].map((e) => e.id).filter((id, i, all) => all.indexOf(id) !== i).map((id) => 'twice: ' + id),
]`;

describe('the page', () => {
  itWithChromium('reads a drawing that is dropped, asks, lays out and gives the files', async () => {
    const { page, outside, complaints } = await opened(service.url);
    await drop(page, DRAWING, 'weir-store.dxf');
    expect(await page.textContent('#drop-hint')).toBe('weir-store.dxf is chosen.');
    await page.click('text=Read the drawing');
    await page.waitForSelector('#questions:not([hidden])');
    expect(await focused(page)).toBe('questions-title');
    const read = (await page.textContent('#questions-body'))!;
    expect(read).toContain('5 walls, 17.9 m; thickness 250 mm (5 walls); drawing in mm.');
    expect(read).toContain('Question 1: Is this break an opening in one wall, or do two walls end here?');
    expect(await page.inputValue('label:text("Unit of the drawing") + select')).toBe('mm');
    expect(await page.inputValue('label:text("Layers of the walls") + textarea')).toBe('S-FNDN-WALL');
    expect(await inPage(page, UNNAMED)).toEqual([]);
    expect(await inPage(page, PALE)).toEqual([]);
    // What is no number is said at its place, and nothing is sent.
    await page.fill('label:text("Top of the walls") + input', '2,3,5');
    await page.click('text=Lay out the forms');
    expect(await page.textContent('#problem')).toContain("'2,3,5' is no number");
    expect(await inPage(page, "document.activeElement.getAttribute('aria-invalid')")).toBe('true');
    await page.fill('label:text("Top of the walls") + input', '2350');
    await page.fill('label:text("Top of the footing") + input', '0');
    await page.fill('label:text("Rate of rise") + input', '1,2');
    await page.click('label:text-is("Two walls end here")');
    await page.click('text=Lay out the forms');
    await page.waitForSelector('#result:not([hidden])', { timeout: 60_000 });
    expect(await focused(page)).toBe('result-title');
    expect(await page.textContent('#status')).toBe('The job is done.');
    const result = (await page.textContent('#result-body'))!;
    expect(result).toContain('Laid out, no failures.');
    expect(result).toContain('0 to 2350 mm');
    expect(result).toContain('aci-347-si, 1.2 m/h');
    expect(result).not.toContain('trace.gap-in-wall');
    expect(result).not.toContain('trace.levels-assumed');
    await until(page, "document.querySelector('.picture img').naturalWidth > 100");
    expect(await inPage(page, PALE)).toEqual([]);
    expect(await inPage(page, UNNAMED)).toEqual([]);
    const [download] = await Promise.all([
      page.waitForEvent('download'),
      page.click('.downloads a:text("weir-store.forms.dxf")'),
    ]);
    expect(download.suggestedFilename()).toBe('weir-store.forms.dxf');
    const path = join(folder, 'forms.dxf');
    await download.saveAs(path);
    expect(readFileSync(path, 'latin1')).toContain('S-FORM-PANL');
    // The report opens in a tab of its own, cut off from this service, and its own script works there.
    const [report] = await Promise.all([page.context().waitForEvent('page'), page.click('text=Open the report')]);
    await report.waitForLoadState();
    expect(await inPage(report, 'origin')).toBe('null');
    expect(await report.locator('.tools button').count()).toBeGreaterThan(0);
    expect(await inPage(report, "fetch('/api/jobs').then(() => 'reached', () => 'refused')")).toBe('refused');
    await report.close();
    // What is left by the address alone is found again.
    await page.reload();
    await page.waitForSelector('#result:not([hidden])');
    page.on('dialog', (dialog) => void dialog.accept());
    const jobs = await page.locator('.job').count();
    await page.locator('.job button:text("Delete")').first().click();
    await until(page, `document.querySelectorAll('.job').length === ${jobs - 1}`);
    expect(outside).toEqual([]);
    expect(complaints).toEqual([]);
    await page.context().close();
  });

  itWithChromium('fits a phone, by day and by night, and says what was refused', async () => {
    for (const scheme of ['light', 'dark'] as const) {
      const { page } = await opened(service.url, 360, scheme);
      await page.waitForSelector('#work:not([hidden])');
      expect(await overflow(page)).toBeLessThanOrEqual(0);
      expect(await inPage(page, PALE)).toEqual([]);
      await page.context().close();
    }
    const { page } = await opened(service.url, 360);
    const path = join(folder, 'note.dxf');
    writeFileSync(path, 'no drawing at all');
    await page.setInputFiles('#drawing', path);
    await page.click('text=Read the drawing');
    await page.waitForSelector('#questions:not([hidden])');
    expect(await page.textContent('#questions-body .verdict')).toMatch(/^Refused\. \S.*\.$/);
    expect(await overflow(page)).toBeLessThanOrEqual(0);
    await page.context().close();
  });

  itWithChromium('asks for a key where the service wants one, and is worked with the keyboard', async () => {
    const { key, line } = newKey('office');
    const keysFile = join(folder, 'keys.txt');
    writeFileSync(keysFile, `${line}\n`);
    const own = await served({ keysFile });
    const { page } = await opened(own.url);
    await page.waitForSelector('#sign-in:not([hidden])');
    expect(await focused(page)).toBe('key');
    await page.keyboard.type('wrong');
    await page.keyboard.press('Enter');
    await page.waitForSelector('#problem .problem');
    expect(await page.textContent('#problem')).toBe('The key is not known.');
    await page.fill('#key', key);
    await page.keyboard.press('Enter');
    await page.waitForSelector('#work:not([hidden])');
    expect(await page.textContent('#jobs-body')).toBe('None yet.');
    await page.setInputFiles('#drawing', { name: 'wait-20000.dxf', mimeType: '', buffer: Buffer.from('x') });
    await page.focus('#bring-form button[type="submit"]');
    await page.keyboard.press('Enter');
    await page.waitForSelector('#stages .now');
    await page.focus('#cancel');
    await page.keyboard.press('Enter');
    await until(page, "document.getElementById('status').textContent === 'The job is cancelled.'");
    await page.click('#sign-out');
    await page.waitForSelector('#sign-in:not([hidden])');
    await page.reload();
    await page.waitForSelector('#sign-in:not([hidden])');
    await page.context().close();
    await own.end();
  });

  itWithChromium('asks for the key again when the service was begun anew while a job is followed', async () => {
    const { key, line } = newKey('office');
    const keysFile = join(folder, 'again.txt');
    writeFileSync(keysFile, line);
    const data = freshFolder();
    const before = await served({ keysFile, data });
    const { page } = await opened(before.url);
    await page.fill('#key', key);
    await page.keyboard.press('Enter');
    await page.waitForSelector('#work:not([hidden])');
    await page.setInputFiles('#drawing', { name: 'wait-20000.dxf', mimeType: '', buffer: Buffer.from('x') });
    await page.click('#bring-form button[type="submit"]');
    await page.waitForSelector('#stages .now');
    await before.end();
    const after = await served({ keysFile, data, port: before.port });
    await page.waitForSelector('#sign-in:not([hidden])', { timeout: 15_000 });
    // It is followed further then.
    await page.fill('#key', key);
    await page.keyboard.press('Enter');
    await page.waitForSelector('#stages .now');
    await page.context().close();
    await after.end();
    rmSync(data, { recursive: true, force: true });
  });
});
