// Looks at pages in a browser as their readers do: on a phone (390 px), on a desk (1280 px), printed on A4 and Letter.
//
//   node sheet.mjs PACKAGES CHROMIUM OUT PAGE...      prints a line for each fault; exit status 1 when there are any
//
// PACKAGES is the node_modules folder with axe-core and playwright-core; PDFs are left in OUT, and with PICTURES=1 in the
// environment pictures as well (slow: they are whole pages).
import { createRequire } from 'node:module';
import fs from 'node:fs';
import path from 'node:path';
import { pathToFileURL } from 'node:url';

const [packages, browserPath, out, ...pages] = process.argv.slice(2);
const require = createRequire(path.join(path.resolve(packages), 'here.js'));
const { chromium } = require('playwright-core');
const axe = require.resolve('axe-core/axe.min.js');
let faults = 0;

function fault(page, words) {
    console.log(`${path.basename(page)}: ${words}`);
    faults++;
}

async function lookAt(page, file, width) {
    await page.setViewportSize({ width, height: 844 });
    const wide = await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth);
    if (wide > 0) fault(file, `${wide} px too wide at ${width} px`);
    const size = await page.evaluate(() => parseFloat(getComputedStyle(document.body).fontSize));
    if (size < 16) fault(file, `text of ${size} px at ${width} px`);
    if (process.env.PICTURES) {
        const picture = path.join(out, `${path.basename(file, '.html')}-${width}.png`);
        await page.screenshot({ path: picture, fullPage: true });
    }
    const result = await page.evaluate(async () => (await window.axe.run()).violations.map(
        v => `axe ${v.id} (${v.impact}): ${v.help}: ${v.nodes.slice(0, 3).map(n => n.target.join(' ')).join('; ')}`));
    for (const words of result) fault(file, `${words}, at ${width} px`);
}

async function print(page, file, format) {
    const pdf = path.join(out, `${path.basename(file, '.html')}-${format}.pdf`);
    await page.pdf({ path: pdf, format });
    if (fs.statSync(pdf).size < 10000) fault(file, `nothing on paper: ${pdf}`);
}

const browser = await chromium.launch({ executablePath: browserPath, args: ['--no-sandbox'] });
for (const file of pages) {
    const page = await browser.newPage({ viewport: { width: 390, height: 844 } });
    page.on('console', message => fault(file, `the browser says: ${message.text()}`));
    page.on('request', request => {
        if (!request.url().startsWith('file:')) fault(file, `asks for ${request.url()}`);
    });
    await page.goto(pathToFileURL(path.resolve(file)).href);
    for (const format of ['A4', 'Letter']) await print(page, file, format);
    await page.addScriptTag({ path: axe }); // behind the printing, for which the page is as it came
    for (const width of [390, 1280]) await lookAt(page, file, width);
    await page.close();
}
await browser.close();
console.log(`${pages.length} pages looked at, ${faults} faults`);
process.exit(faults ? 1 : 0);
