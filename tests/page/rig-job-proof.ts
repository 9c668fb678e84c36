// `npm run page-proof -- [FOLDER] [SERVICE]`: a job on a rig from the page, in real time, to its end: a browser answers every
// question as a person would, and does at the emulated plant what the machine asks for. A whole service takes over an hour. Pictures go
// to the folder.
import { mkdirSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import type { Page } from 'playwright-core';
import { type Emulator, view } from './browser.ts';
import { openRigPage } from './rig-page.ts';

const CAR = {
  name: 'a small car',
  seed: 3,
  weather: { ambientC: 25 },
  ticket: {
    refrigerant: 'R-134a',
    nominalChargeG: 400,
    service: process.argv[3] ?? 'whole',
    engine: 'cannot-run',
  },
  vehicle: { chargeG: 300, volumeL: 1.5 },
  tank: { contentKg: 8 },
};
const LOOK_MS = 1_000;
const SHOT_MS = 300_000;
const LONGEST_MS = 2 * 3_600_000;

/** What a person does at the plant when the machine asks for it. */
const DEEDS: readonly (readonly [RegExp, string])[] = [
  [/Put both couplers on/, 'connect'],
  [/lose both couplers/, 'close couplers'],
];

class Person {
  readonly #page: Page;
  readonly #emulator: Emulator;
  #asked = '';

  constructor(page: Page, emulator: Emulator) {
    this.#page = page;
    this.#emulator = emulator;
  }

  /** Answers what is asked now; says what it did. */
  async look(): Promise<string | undefined> {
    const goOn = this.#page.getByRole('button', { name: 'Go on', exact: true });
    if (await goOn.isVisible()) {
      await goOn.click({ timeout: 1_000 }).catch(() => undefined);
      return '[goes on]';
    }
    const ask = this.#page.locator('.panel.ask');
    const text =
      (await ask
        .locator('.prompt-text')
        .textContent({ timeout: 300 })
        .catch(() => '')) ?? '';
    if (text === '') return undefined;
    const isNew = text !== this.#asked;
    this.#asked = text;
    const deed = DEEDS.find(([pattern]) => pattern.test(text))?.[1];
    if (deed !== undefined && isNew) this.#emulator.type(deed);
    if (/identifier/.test(text)) {
      await this.#page.getByLabel('Refrigerant', { exact: true }).last().fill('R134a');
      await this.#page.getByLabel('Purity, %').fill('99.8');
      await this.#page.getByRole('button', { name: 'Enter the reading' }).click();
    } else {
      const field = ask.locator('input').first();
      if (await field.isVisible()) await field.fill('0');
      await ask
        .locator('button.main')
        .first()
        .click({ timeout: 1_000 })
        .catch(() => undefined);
    }
    return isNew ? `${text}${deed === undefined ? '' : ` [${deed}]`}` : undefined;
  }
}

async function main(): Promise<void> {
  const shots = process.argv[2] ?? path.join(tmpdir(), 'coldbench-page-proof');
  mkdirSync(shots, { recursive: true });
  const { page, emulator, errors, close } = await openRigPage(CAR);
  const startedMs = performance.now();
  const say = (text: string): void =>
    void process.stdout.write(
      `${((performance.now() - startedMs) / 60_000).toFixed(1).padStart(6)} min  ${text}\n`,
    );
  const shot = (name: string): Promise<unknown> => page.screenshot({ path: path.join(shots, `${name}.png`) });
  try {
    await view(page, 'job');
    await page.getByLabel('Charge on the label, g').fill(String(CAR.ticket.nominalChargeG));
    await page.getByLabel('Service').first().selectOption(CAR.ticket.service);
    await shot('ticket');
    await page.getByRole('button', { name: 'Use this ticket' }).click();
    await page.getByText('Nothing stands against it.').waitFor();
    await shot('form');
    await page.getByRole('button', { name: 'Start the job' }).click();
    const person = new Person(page, emulator);
    const ended = page.getByText(/^Job (completed|stopped|done|ended)/).first();
    let stage = '';
    let shownMs = 0;
    while (!(await ended.isVisible()) && performance.now() - startedMs < LONGEST_MS) {
      const did = await person.look();
      if (did !== undefined) say(did);
      const now =
        (await page
          .locator('.now-stage')
          .first()
          .textContent({ timeout: 500 })
          .catch(() => stage)) ?? '';
      if (now !== stage || performance.now() - shownMs > SHOT_MS) {
        if (now !== stage) say(`stage: ${now}`);
        stage = now;
        shownMs = performance.now();
        await shot(`${Math.round((shownMs - startedMs) / 1000)}s`);
      }
      await page.waitForTimeout(LOOK_MS);
    }
    say(`ended: ${await ended.textContent()}`);
    await shot('ended');
    await view(page, 'records');
    await page.getByRole('button', { name: /^1 · / }).click();
    await page.frameLocator('iframe.report').getByText('Record of job 1').waitFor();
    await shot('record');
    say((await page.frameLocator('iframe.report').locator('body').textContent())?.slice(0, 3000) ?? '');
    emulator.type('status');
    await page.waitForTimeout(1_500);
    say(emulator.said().slice(-1500));
    say(`errors on the page: ${errors.length}`);
  } finally {
    await close();
  }
}

await main();
