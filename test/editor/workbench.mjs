/**
 * The hands and eyes of a user in VS Code's workbench: what is pressed, typed, pointed at and read. The only module that
 * knows the workbench's elements by their classes. Everything waits for what it wants to see, never for time to pass.
 */

export class Workbench {
  /** @param {import('playwright-core').Page} page */
  constructor(page) {
    this.page = page;
    page.setDefaultTimeout(20_000);
  }

  /** Until the explorer shows the folder. */
  async ready() {
    await this.waitFor('.explorer-folders-view .monaco-list-row');
  }

  async press(keys) {
    await this.page.keyboard.press(keys);
  }

  async type(text) {
    await this.page.keyboard.type(text);
  }

  async waitFor(selector) {
    await this.page.waitForSelector(selector);
  }

  async gone(selector) {
    await this.page.waitForSelector(selector, { state: 'detached' });
  }

  /** The text of the element that has `text` in it. */
  async text(selector, text) {
    const element = this.page.locator(selector, { hasText: text }).first();
    await element.waitFor();
    return element.innerText();
  }

  async click(selector, text) {
    await this.page.locator(selector, { hasText: text }).first().click();
  }

  /** Takes the pointer to where nothing answers it. */
  async away() {
    await this.page.mouse.move(0, 0);
  }

  /** Opens a file by its name and waits until `seen` stands in the editor. */
  async open(name, seen) {
    await this.press('Control+P');
    await this.waitFor('.quick-input-widget input');
    await this.type(name);
    await this.page.waitForSelector(`.quick-input-list .monaco-list-row:has-text("${name}")`);
    await this.press('Enter');
    await this.page.locator('.monaco-editor .view-line', { hasText: seen }).first().waitFor();
  }

  async goTo(line) {
    await this.press('Control+G');
    await this.waitFor('.quick-input-widget input');
    await this.type(String(line));
    await this.press('Enter');
    await this.page.locator('.monaco-editor .line-numbers.active-line-number', { hasText: String(line) }).waitFor();
  }

  /** Of the problem list, leaves what concerns the file in the editor. */
  async onlyActiveFile() {
    await this.page.locator('.panel .viewpane-filter .codicon-filter').first().click();
    await this.page.getByRole('menuitemcheckbox', { name: 'Show Active File Only' }).click();
  }

  /** Gives the editor so many more pixels of the panel's height. */
  async lowerPanel(pixels) {
    const { x, y, width } = await this.page.locator('.part.panel').boundingBox();
    // The sash lies on the edge, between the two parts.
    await this.page.mouse.move(x + width / 2, y - 2);
    await this.page.mouse.down();
    await this.page.mouse.move(x + width / 2, y - 2 + pixels, { steps: 5 });
    await this.page.mouse.up();
  }

  async command(title) {
    await this.press('F1');
    await this.waitFor('.quick-input-widget input');
    await this.type(title);
    await this.page.locator('.quick-input-list .monaco-list-row', { hasText: title }).first().waitFor();
    await this.press('Enter');
  }

  /** Answers the input box that a command has opened. */
  async answer(text) {
    await this.page.waitForSelector('.quick-input-widget .quick-input-title', { state: 'visible' });
    await this.type(text);
    await this.press('Enter');
  }

  /** Points at the first place of `text` in the editor, and reads what appears. */
  async hover(text) {
    const { x, y } = await this.placeOf(text);
    await this.page.mouse.move(x, y + 60);
    await this.page.mouse.move(x, y, { steps: 5 });
    const hover = this.page.locator('.monaco-hover:visible .monaco-hover-content').filter({ hasText: /\S/ }).first();
    await hover.waitFor();
    await this.page.waitForFunction(() => [...document.querySelectorAll('.monaco-hover .monaco-hover-content')].some((it) => it.textContent.length > 0 && !/Loading/.test(it.textContent)));
    return hover.innerText();
  }

  /** Clicks into `text` and opens the light bulb, or asks for its menu by key; the entries of the menu. */
  async lightBulb(text, { byKey = false } = {}) {
    const { x, y } = await this.placeOf(text);
    await this.page.mouse.click(x, y);
    if (byKey) await this.press('Control+.');
    else await this.page.locator('.monaco-editor [class*="codicon-gutter-lightbulb"]:visible, .monaco-editor .lightBulbWidget:visible').first().click();
    const rows = this.page.locator('.action-widget .monaco-list-row.action');
    await rows.filter({ hasText: 'Accept this finding' }).waitFor();
    return (await rows.allInnerTexts()).map((row) => row.trim());
  }

  async choose(entry) {
    await this.page.locator('.action-widget .monaco-list-row.action', { hasText: entry }).first().click();
  }

  /** The middle of the first five letters of a text in the editor, in CSS pixels. */
  async placeOf(text) {
    const box = await this.page.evaluate((wanted) => {
      for (const line of document.querySelectorAll('.monaco-editor .view-line')) {
        const start = line.textContent.replaceAll('\u00a0', ' ').indexOf(wanted);
        if (start < 0) continue;
        const walker = document.createTreeWalker(line, NodeFilter.SHOW_TEXT);
        for (let before = 0, node; (node = walker.nextNode()); before += node.data.length) {
          if (before + node.data.length <= start) continue;
          const range = document.createRange();
          range.setStart(node, start - before);
          range.setEnd(node, Math.min(node.data.length, start - before + 5));
          const { x, y, width, height } = range.getBoundingClientRect();
          return { x: x + width / 2, y: y + height / 2 };
        }
      }
      return undefined;
    }, text);
    if (!box) throw new Error(`"${text}" is not in sight`);
    return box;
  }
}
