// steps.mjs BROWSER_LIBRARY ADDRESS WORKSPACE RESTS: drives VS Code in Chromium; prints 'ok' and 'not ok' lines.
import fs from 'node:fs';
import { createRequire } from 'node:module';
import path from 'node:path';

const [library, address, workspace, restsFile] = process.argv.slice(2);
const { chromium } = createRequire(path.join(library, 'package.json'))('playwright-core');
const file = path.join(workspace, 'crossing.asm');
const hex = path.join(workspace, 'chip.hex');
const pictures = process.env.SCREENSHOTS;

const browser = await chromium.launch({
  executablePath: '/usr/bin/chromium', headless: true,
  args: ['--no-sandbox', '--disable-gpu', '--disable-quic', '--no-first-run', '--disable-background-networking', '--disable-component-update', '--disable-sync'],
});
const page = await browser.newPage({ viewport: { width: 1180, height: 680 } });
page.setDefaultTimeout(60_000);

const line = pattern => page.locator('.editor-instance .view-line', { hasText: pattern });
const picture = async name => {
  if (pictures) await page.screenshot({ path: path.join(pictures, `${name}.png`) });
};
async function await_(what, check) {
  const end = Date.now() + 40_000;
  for (;;) {
    const value = await check();
    if (value) return value;
    if (Date.now() > end) throw new Error(`no sign of: ${what}`);
    await page.waitForTimeout(50);
  }
}
async function command(name) {
  await page.keyboard.press('F1');
  await page.waitForSelector('.quick-input-widget input');
  await page.keyboard.type(name);
  await page.locator('.quick-input-list .monaco-list-row.focused', { hasText: name }).first().waitFor();
  await page.keyboard.press('Enter');
}
// Puts the cursor at a text through the search box, which works for lines out of sight.
async function find(text) {
  await page.locator('.editor-instance .view-lines').first().click();
  await page.keyboard.press('Control+Home');
  await page.keyboard.press('Control+f');
  await page.waitForFunction(() => !!document.activeElement?.closest('.find-widget.visible'));
  await page.keyboard.press('Control+a');
  await page.keyboard.type(text);
  await page.waitForFunction(wanted => document.activeElement?.value === wanted, text);
  await page.locator('.find-widget .matchesCount', { hasText: /\d+ of/ }).waitFor();
  await page.keyboard.press('Enter');
  // On a busy machine the box may have the key before it knows that Escape closes it: what is typed next would go into the box.
  await await_('the search box gone and the cursor in the text', async () => {
    if (await page.locator('.find-widget.visible').count() > 0) await page.keyboard.press('Escape');
    return page.evaluate(() => !document.querySelector('.find-widget.visible') && !!document.activeElement?.closest('.editor-instance .monaco-editor'));
  });
}
const onDisk = (which = file) => fs.readFileSync(which, 'utf8');
// Saves; again after a while where that came before the change that is waited for.
async function saveUntil(what, check, which = file) {
  let last = 0;
  await await_(what, async () => {
    if (Date.now() - last > 1000) {
      await page.keyboard.press('Control+s');
      last = Date.now();
    }
    return check(onDisk(which));
  });
}
// By a right click on a file in the explorer.
async function recover(name) {
  await page.locator('.explorer-folders-view .monaco-list-row', { hasText: name }).first().click({ button: 'right' });
  const entry = page.locator('.monaco-menu .action-item', { hasText: 'Recover a printed document' });
  await entry.first().waitFor();
  // A menu that has only just come up takes no click, lest the one that opened it counts twice.
  await await_('the menu gone', async () => {
    if (await entry.count() > 0) await entry.first().click({ timeout: 1000 }).catch(() => {});
    return await entry.count() === 0;
  });
}

// A page of Courier with one line that can only be guessed (ISO 32000-1, 7.5).
function printed(lines) {
  const content = `BT /F1 10 Tf 12 TL 60 780 Td ${lines.map(text => `(${text}) Tj T* `).join('')}ET`;
  const objects = [
    '<< /Type /Catalog /Pages 2 0 R >>', '<< /Type /Pages /Kids [3 0 R] /Count 1 >>',
    '<< /Type /Page /Parent 2 0 R /MediaBox [0 0 595 842] /Resources << /Font << /F1 5 0 R >> >> /Contents 4 0 R >>',
    `<< /Length ${content.length} >>\nstream\n${content}\nendstream`, '<< /Type /Font /Subtype /Type1 /BaseFont /Courier >>',
  ];
  let pdf = '%PDF-1.4\n';
  const offsets = objects.map((object, i) => {
    const offset = pdf.length;
    pdf += `${i + 1} 0 obj\n${object}\nendobj\n`;
    return `${String(offset).padStart(10, '0')} 00000 n \n`;
  });
  return `${pdf}xref\n0 6\n0000000000 65535 f \n${offsets.join('')}trailer\n<< /Size 6 /Root 1 0 R >>\nstartxref\n${pdf.length}\n%%EOF\n`;
}

const steps = [
  ['a source has its colors before the server answers', async () => {
    await page.goto(`${address}/?folder=${workspace}`);
    await page.waitForSelector('.monaco-workbench');
    await page.locator('.explorer-folders-view .monaco-list-row', { hasText: 'crossing.asm' }).first().dblclick();
    const sensor = line(/^SENSOR\sequ\s0/).first();
    await sensor.waitFor();
    await await_('a color each for name, directive, number and comment', async () => {
      const pieces = await sensor.locator('span span').evaluateAll(all => all.map(piece => [piece.textContent.trim(), getComputedStyle(piece).color]));
      const color = text => pieces.find(piece => piece[0].startsWith(text))?.[1];
      const colors = ['SENSOR', 'equ', '0', ';'].map(color);
      return !colors.includes(undefined) && new Set(colors).size === 4;
    });
    fs.writeFileSync(process.env.SERVER_WAITS_FOR, '');
  }],
  ['the problems of the paste are shown', async () => {
    await page.waitForSelector('.editor-instance .squiggly-error');
    await page.waitForSelector('.editor-instance .squiggly-warning');
    const mode = await page.locator('[id="status.editor.mode"]').innerText();
    if (!mode.includes('Mid-range PIC assembly')) throw new Error(`the language is ${mode}`);
    await command('Problems: Focus on Problems View');
    await page.locator('.markers-panel .monaco-list-row', { hasText: 'is not an instruction, directive or macro' }).first().waitFor();
    await page.mouse.move(200, 450);
    await picture('vscode-problems');
    await page.keyboard.press('Control+j');
  }],
  ['one fix from the light bulb menu moves an operation out of column 1', async () => {
    await find('goto start');
    await page.waitForSelector('.lightBulbWidget, [class*=codicon-gutter-lightbulb]', { state: 'attached' });
    const menu = page.locator('.action-widget .monaco-list-row').first();
    // Answers that come while the key is pressed can take the menu away again.
    await await_('the menu of fixes', async () => {
      await page.keyboard.press('Control+.');
      return menu.waitFor({ timeout: 8_000 }).then(() => true, () => false);
    });
    await picture('vscode-fix');
    await page.keyboard.press('Enter');
    await line(/^\s{6,}goto\s+start/).waitFor();
  }],
  ['every certain fix is made by one command', async () => {
    await command('Make every certain fix');
    await saveUntil('the fixed text', text => /^ +retfie/m.test(text));
  }],
  ['no error is left when a person has given the rests of comments their semicolon', async () => {
    // Written beside the editor, as another program would; asked to, it takes the file as it is now (its own watch on the disk may be late).
    const rests = new Set(fs.readFileSync(restsFile, 'utf8').trim().split('\n'));
    const text = fs.readFileSync(file, 'utf8');
    fs.writeFileSync(file, text.split('\n').map(l => (rests.has(l.trim().replace(/\s+/g, ' ')) ? `; ${l}` : l)).join('\n'));
    await command('File: Revert File');
    await find('; The program');
    await page.waitForFunction(() => !document.querySelector('.editor-instance .squiggly-error'));
    await await_('no error', async () => !/[1-9]\d* error/i.test((await page.locator('[id="status.problems"]').getAttribute('aria-label')) ?? ''));
  }],
  ['the hover of the configuration line shows the word', async () => {
    await find('_WDT_OFF');
    await command('Show or Focus Hover');
    const hover = page.locator('.monaco-hover:not(.hidden) .hover-contents', { hasText: '0x3FF1' }).first();
    // 0x3FF1: worked out in docs/demo/crossing-words.md.
    await hover.waitFor();
    await picture('vscode-hover');
    await page.keyboard.press('Escape');
  }],
  ['a rename changes the definition and every use', async () => {
    await find('idle1');
    await page.keyboard.press('F2');
    await page.waitForFunction(() => document.activeElement?.classList.contains('rename-input'));
    await page.keyboard.press('Control+a');
    await page.keyboard.type('quietly');
    await page.keyboard.press('Enter');
    await saveUntil('the new name', text => /^quietly +call +look/m.test(text) && /goto +quietly$/m.test(text) && !/idle1/.test(text));
  }],
  ['formatting puts the operations into their column', async () => {
    if (/^start {2,}clrf/m.test(onDisk())) throw new Error('the line was in its columns before');
    await command('Format Document');
    await saveUntil('the formatted text', text => /^start {2,}clrf +PORTA/m.test(text));
  }],
  ['saving writes the HEX', async () => {
    fs.rmSync(hex, { force: true });
    await find('; railway');
    await page.keyboard.press('End');
    await page.keyboard.type(' (saved)');
    await saveUntil('the change in the file', text => text.includes('; railway (saved)'));
    await await_('the HEX', () => fs.existsSync(hex) && fs.readFileSync(hex).equals(fs.readFileSync(process.env.EXPECTED_HEX)));
  }],
  ['the build command says where the HEX is', async () => {
    await command('Build the HEX file');
    await page.locator('.notification-toast', { hasText: 'chip.hex' }).first().waitFor();
    await picture('vscode-built');
  }],
  ['the explorer recovers the leaflet into a new source, whose HEX is that of the demo', async () => {
    await command('Notifications: Clear All Notifications');
    await recover('kit.pdf');
    await page.locator('.notification-toast', { hasText: 'Recovered without a doubt' }).first().waitFor();
    await page.locator('.tab.active', { hasText: 'kit.asm' }).waitFor();
    await picture('vscode-recovered');
    fs.rmSync(hex, { force: true });
    await find('cblock');
    await page.keyboard.press('Control+s');
    await await_('the HEX of the leaflet', () => fs.existsSync(hex) && fs.readFileSync(hex).equals(fs.readFileSync(process.env.EXPECTED_HEX)));
  }],
  ['two places that were guessed are marked, reported and shown as problems', async () => {
    await command('Notifications: Clear All Notifications');
    await recover('porch.txt');
    await page.locator('.notification-toast', { hasText: '2 places want a look' }).first().waitFor();
    await page.locator('.tab.active', { hasText: 'porch.asm' }).waitFor();
    await line(/movwf\s+TRISB\s;\?\swas\sm0vwf/).waitFor();
    await line(/bsf\s+PORTB,0\s;\?\swas\sO/).waitFor();
    await await_('the doubts as problems', async () => await page.locator('.editor-instance .squiggly-warning').count() >= 2);
  }],
  ['the hover over the mark of a doubt shows the printed line', async () => {
    fs.writeFileSync(path.join(workspace, 'shed.pdf'), printed([
      '        list    p=16f84a', '        __config 0x3ff1', 'LAMP    equ     0', '        org     0',
      'start   clrf    PORTB           ; all lamps off', '        bsf     PORTB,O         ; but the one in the shed', '        goto    start', '        end',
    ]));
    await command('Notifications: Clear All Notifications');
    await recover('shed.pdf');
    await page.locator('.tab.active', { hasText: 'shed.asm' }).waitFor();
    const shown = page.locator('.monaco-hover:not(.hidden) .hover-contents img').first();
    // The first answer may come before the picture is drawn.
    await await_('the picture of the line', async () => {
      await find(';?');
      await command('Show or Focus Hover');
      const there = await shown.waitFor({ timeout: 8_000 }).then(() => true, () => false);
      return there && await shown.evaluate(image => image.complete && image.naturalWidth > 300);
    });
    await picture('vscode-doubt');
    await page.keyboard.press('Escape');
  }],
  ['a listing pasted into an empty source is put right by one command', async () => {
    await command('Notifications: Clear All Notifications');
    await page.locator('.explorer-folders-view .monaco-list-row', { hasText: 'fresh.asm' }).first().dblclick();
    await page.locator('.tab.active', { hasText: 'fresh.asm' }).waitFor();
    await page.locator('.editor-instance .view-lines').first().click();
    await page.context().grantPermissions(['clipboard-read', 'clipboard-write'], { origin: address });
    await page.evaluate(text => navigator.clipboard.writeText(text), fs.readFileSync(process.env.PASTE, 'utf8'));
    await page.keyboard.press('Control+v');
    await page.waitForSelector('.editor-instance .squiggly-error');
    await command('Make every certain fix');
    await saveUntil('the fixed text', text => /^ +retfie/m.test(text), path.join(workspace, 'fresh.asm'));
  }],
  ['the chip is chosen from a list and stands in the settings of the workspace', async () => {
    await command('Choose the chip');
    await page.locator('.quick-input-widget', { hasText: 'The chip for programs that name none' }).waitFor();
    await page.locator('.quick-input-list .monaco-list-row', { hasText: 'PIC12C671' }).first().waitFor();
    await page.keyboard.type('16F628A');
    await page.locator('.quick-input-list .monaco-list-row.focused', { hasText: 'PIC16F628A' }).first().waitFor();
    await page.keyboard.press('Enter');
    await await_('the setting', () => {
      const settings = path.join(workspace, '.vscode', 'settings.json');
      return fs.existsSync(settings) && JSON.parse(fs.readFileSync(settings, 'utf8') || '{}')['relist.chip'] === 'PIC16F628A';
    });
  }],
];

for (const [name, step] of steps) {
  try {
    await step();
    console.log(`ok vscode: ${name}`);
  } catch (fault) {
    console.log(`not ok vscode: ${name}`);
    console.error(`${name}: ${fault.stack}`);
    if (fs.existsSync(file)) console.error(fs.readFileSync(file, 'utf8'));
    await page.screenshot({ path: path.join(process.env.SCREENSHOTS ?? '/tmp', 'vscode-failed.png') }).catch(() => {});
    process.exitCode = 1;
    break;
  }
}
await browser.close();
