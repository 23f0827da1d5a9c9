import { readFile } from 'node:fs/promises';
import type { Download, Locator, Page } from '@playwright/test';
import { expect } from './test';

export type PlaceName = 'Bring in' | 'Mark' | 'Fan' | 'True' | 'Finish' | 'Print';

/** A file to hand in: a path, or a name with what is in it. */
export type HandedIn = string | { readonly name: string; readonly mimeType: string; readonly buffer: Buffer };

/** The bench as a maker finds it: by roles and words, never by how it is built. */
export class Bench {
  readonly path: Locator;
  readonly tray: Locator;
  readonly sheet: Locator;
  readonly slip: Locator;
  readonly rack: Locator;
  readonly notice: Locator;

  constructor(readonly page: Page) {
    this.path = page.getByRole('navigation', { name: 'The path of the work' });
    this.tray = page.getByRole('region', { name: 'What to do here' });
    this.sheet = page.getByRole('application', { name: /cutting table/ });
    this.slip = page.getByRole('complementary', { name: /^The slip/ });
    this.rack = page.getByRole('region', { name: /^The rack/ });
    this.notice = page.getByRole('status').filter({ hasText: /(Done|Mind|Refused)\./ });
  }

  async openSample(name: string): Promise<void> {
    await this.page.goto('./');
    await this.page.getByRole('button', { name }).click();
    await expect(this.sheet).toBeVisible();
  }

  /** From the first screen. */
  async openFile(file: HandedIn): Promise<void> {
    await this.page.goto('./');
    await this.handIn(this.page.getByRole('button', { name: /^Open a file .+/ }), file);
  }

  /** Presses what opens the browser's own file picker, and picks. */
  async handIn(door: Locator, file: HandedIn): Promise<void> {
    const picker = this.page.waitForEvent('filechooser');
    await door.click();
    await (await picker).setFiles(file);
  }

  station(place: PlaceName): Locator {
    return this.path.getByRole('button', { name: place, exact: true });
  }

  async goTo(place: PlaceName): Promise<void> {
    await this.station(place).click();
    await expect(this.station(place)).toHaveAttribute('aria-current', 'step');
  }

  async showLengthsIn(unit: 'cm' | 'mm' | 'in'): Promise<void> {
    const units = this.page.getByRole('group', { name: 'Show lengths in' });
    await units.getByRole('radio', { name: unit }).check();
  }

  field(label: string): Locator {
    return this.tray.getByRole('textbox', { name: label, exact: true });
  }

  press(name: string): Promise<void> {
    return this.tray.getByRole('button', { name, exact: true }).click();
  }

  /** Says what a brought-in outline is. */
  sewnAlong(what: 'the stitching line' | 'the cut line, allowances included'): Promise<void> {
    return this.tray.getByRole('radio', { name: what }).check();
  }

  async type(label: string, text: string): Promise<void> {
    await this.field(label).fill(text);
    // The field keeps the focus while what is typed already shows; its label may change with it.
    await this.page.keyboard.press('Enter');
  }

  unfold(label: string): Promise<void> {
    return this.tray.getByText(label, { exact: true }).click();
  }

  peg(version: string): Locator {
    return this.rack.getByRole('button', { name: new RegExp(`^${version}, .* hem sweep`) });
  }

  /** The garment as a project file, saved through the garment's menu. */
  async garmentFile(): Promise<string> {
    await this.page.getByRole('button', { name: /^Garment: / }).click();
    const saved = this.page.waitForEvent('download');
    await this.page.getByRole('menuitem', { name: 'Save a copy as a file' }).click();
    return textOf(await saved);
  }

  async savePdf(): Promise<Download> {
    const saved = this.page.waitForEvent('download');
    await this.press('Save PDF');
    return saved;
  }
}

export async function textOf(download: Download): Promise<string> {
  return readFile(await download.path(), 'utf8');
}
