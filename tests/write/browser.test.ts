/** The page in a browser that no one here wrote: Chromium, without a head. One browser for all of it. */

import { existsSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { type Browser, chromium, type Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect } from 'vitest';
import { reportHtml } from '../../src/write/report/index.js';
import { itNeeds } from '../read/samples.js';
import { exampleResult } from '../support/exampleResult.js';

const CHROMIUM = ['/usr/bin/chromium', '/usr/bin/chromium-browser'].find((path) => existsSync(path)) ?? null;
const itWithChromium = itNeeds(CHROMIUM !== null, 'chromium');

const folder = mkdtempSync(join(tmpdir(), 'page-'));
const FILE = join(folder, 'plan.report.html');
writeFileSync(FILE, reportHtml(exampleResult));
const URL_OF_PAGE = pathToFileURL(FILE).href;

let browser: Browser | null = null;
beforeAll(async () => {
  if (CHROMIUM !== null) browser = await chromium.launch({ executablePath: CHROMIUM, args: ['--no-sandbox'] });
}, 60_000);
afterAll(async () => {
  await browser?.close();
  rmSync(folder, { recursive: true, force: true });
});

/** What the page asked for and complained of. */
interface Heard {
  readonly requests: string[];
  readonly complaints: string[];
}

const opened = async (width: number, withScript = true): Promise<Heard & { page: Page }> => {
  const context = await browser!.newContext({ viewport: { width, height: 900 }, javaScriptEnabled: withScript });
  const page = await context.newPage();
  const heard: Heard = { requests: [], complaints: [] };
  page.on('request', (request) => heard.requests.push(request.url()));
  page.on('console', (message) => heard.complaints.push(message.text()));
  page.on('pageerror', (error) => heard.complaints.push(error.message));
  await page.goto(URL_OF_PAGE);
  return { page, ...heard };
};

/** What a line of script gives in the page; as text, since the checker of types knows no page here. */
const inPage = <T>(page: Page, code: string): Promise<T> => page.evaluate<T>(code);

/** Is the middle of an element within its window and within the plan's frame? */
const inSight = (page: Page, id: string): Promise<boolean> =>
  inPage(
    page,
    `(() => {
      const own = document.getElementById('${id}');
      const at = own.getBoundingClientRect();
      const [x, y] = [at.left + at.width / 2, at.top + at.height / 2];
      const within = (box) => x >= box.left && x <= box.right && y >= box.top && y <= box.bottom;
      const frame = own.closest('.sheet');
      return within({ left: 0, top: 0, right: innerWidth, bottom: innerHeight }) && (!frame || within(frame.getBoundingClientRect()));
    })()`,
  );

describe('the page in a browser', () => {
  itWithChromium('asks for nothing, complains of nothing, and shows plan and elevations', async () => {
    const { page, requests, complaints } = await opened(1400);
    expect(requests).toEqual([URL_OF_PAGE]);
    expect(complaints).toEqual([]);
    const drawings = await page.locator('.drawn .sheet svg').all();
    expect(drawings).toHaveLength(5);
    for (const drawing of drawings) {
      const box = (await drawing.boundingBox())!;
      expect(Math.min(box.width, box.height)).toBeGreaterThan(100);
    }
  });

  itWithChromium('leads from a finding to its triangle in the plan, lights it, and back', async () => {
    const { page } = await opened(1400);
    for (const click of [1, 2]) {
      await page.locator('#finding-1 a[href="#mark-1"]').click();
      expect(page.url(), `click ${click}`).toContain('#mark-1');
      expect(await inSight(page, 'mark-1'), `click ${click}`).toBe(true);
      await inPage(page, 'scrollTo(0, 0)');
    }
    expect(await inPage(page, "getComputedStyle(document.querySelector('#mark-1 path')).stroke")).toBe(
      'rgb(196, 106, 0)',
    );
    await page.locator('#finding-1 a[href="#mark-1"]').click();
    await page.locator('#mark-1').click();
    expect(page.url()).toContain('#finding-1');
    expect(await inSight(page, 'finding-1')).toBe(true);
  });

  itWithChromium('makes the plan larger and smaller by button, key and wheel, and pushes it by mouse', async () => {
    const { page } = await opened(1400);
    const width = () => page.locator('#plan .sheet svg').evaluate((svg) => svg.getBoundingClientRect().width);
    const first = await width();
    await page.getByRole('button', { name: 'Larger' }).click();
    expect(await width()).toBeCloseTo(first * 1.4, 0);
    await page.locator('#plan .sheet').focus();
    for (let i = 0; i < 5; i++) await page.keyboard.press('+');
    const large = await width();
    expect(large).toBeCloseTo(first * 1.4 ** 6, 0);
    const frame = (await page.locator('#plan .sheet').boundingBox())!;
    const before = await page.locator('#plan .sheet').evaluate((e) => e.scrollLeft);
    await page.mouse.move(frame.x + frame.width / 2, frame.y + 60);
    await page.mouse.down();
    await page.mouse.move(frame.x + frame.width / 2 - 120, frame.y + 60);
    await page.mouse.up();
    expect(await page.locator('#plan .sheet').evaluate((e) => e.scrollLeft)).toBeCloseTo(before + 120, 0);
    await page.keyboard.press('0');
    expect(await width()).toBeCloseTo(first, 0);
  });

  itWithChromium('is read on a phone without sideways scrolling, with buttons that a thumb hits', async () => {
    const { page } = await opened(390);
    for (const width of [390, 320]) {
      await page.setViewportSize({ width, height: 700 });
      expect(await inPage(page, 'document.documentElement.scrollWidth'), `${width}`).toBeLessThanOrEqual(width);
    }
    const button = (await page.getByRole('button', { name: 'Larger' }).boundingBox())!;
    expect(Math.min(button.width, button.height)).toBeGreaterThanOrEqual(44);
    await page.locator('#finding-1 a[href="#mark-1"]').click();
    expect(await inSight(page, 'mark-1')).toBe(true);
  });

  itWithChromium('is whole without its script: drawings, links, no tools that would do nothing', async () => {
    const { page } = await opened(390, false);
    expect(await page.locator('.tools').count()).toBe(0);
    await page.locator('#finding-1 a[href="#mark-1"]').click();
    expect(await page.locator('#mark-1').evaluate((e) => e.matches(':target'))).toBe(true);
    expect((await page.locator('#plan .sheet svg').boundingBox())!.width).toBeGreaterThan(200);
  });

  itWithChromium('prints whole: no tools, the plan as wide as the paper, nothing cut off', async () => {
    const { page } = await opened(1400);
    for (let i = 0; i < 6; i++) await page.getByRole('button', { name: 'Larger' }).click();
    await page.emulateMedia({ media: 'print' });
    expect(await page.locator('.tools').isVisible()).toBe(false);
    const [drawn, frame] = await page
      .locator('#plan .sheet')
      .evaluate((e) => [e.querySelector('svg')!.getBoundingClientRect().width, e.clientWidth] as const);
    expect(drawn).toBeLessThanOrEqual(frame);
    const cut = await inPage(
      page,
      "[...document.querySelectorAll('.wide, .sheet')].filter((e) => getComputedStyle(e).overflowX !== 'visible').length",
    );
    expect(cut).toBe(0);
  });

  itWithChromium('begins with a way past the head, and shows where the focus is', async () => {
    const { page } = await opened(1400);
    await page.keyboard.press('Tab');
    const skip = page.locator('.skip');
    expect(await inPage(page, 'document.activeElement.className')).toBe('skip');
    expect((await skip.boundingBox())!.x).toBeGreaterThanOrEqual(0);
    expect(await inPage(page, 'getComputedStyle(document.activeElement).outlineStyle')).toBe('solid');
  });
});
