// Holds pages against axe-core in light, dark and at phone width, and looks for what a browser only
// shows when it lays a page out: a page wider than the screen, text too small, requests to a network.
// node check_page.mjs BROWSER FILE...   Prints one line a run; exits 1 when anything was found.
import {readFileSync} from "node:fs";
import {createRequire} from "node:module";
import {resolve} from "node:path";
import {pathToFileURL} from "node:url";

const require = createRequire(resolve(process.cwd(), "package.json"));
const puppeteer = require("puppeteer-core");
const axe_source = readFileSync(require.resolve("axe-core/axe.min.js"), "utf8");
const [browser_path, ...files] = process.argv.slice(2);
const runs = [
  {name: "light", scheme: "light", width: 1100},
  {name: "dark", scheme: "dark", width: 1100},
  {name: "light at 375 px", scheme: "light", width: 375},
  {name: "dark at 375 px", scheme: "dark", width: 375},
].filter((each) => !process.env.WIDE_ALONE || each.width > 375);

const browser = await puppeteer.launch({executablePath: browser_path, args: ["--no-sandbox"]});
let found = 0;
for (const file of files) {
  for (const run of runs) {
    const page = await browser.newPage();
    const asked = [];
    page.on("request", (request) => {
      if (!request.url().startsWith("file:")) asked.push(request.url());
    });
    await page.setViewport({width: run.width, height: 900});
    await page.emulateMediaFeatures([{name: "prefers-color-scheme", value: run.scheme}]);
    await page.goto(pathToFileURL(resolve(file)).href);
    await page.evaluate(() => document.querySelectorAll("details").forEach((each) => (each.open = true)));
    const laid_out = await page.evaluate(() => ({
      too_wide: document.documentElement.scrollWidth - window.innerWidth,
      smallest: Math.min(...[...document.querySelectorAll("svg text")].map((each) => {
        const svg = each.ownerSVGElement;
        const scale = svg.getBoundingClientRect().width / svg.viewBox.baseVal.width;
        return parseFloat(getComputedStyle(each).fontSize) * scale;
      })),
    }));
    await page.evaluate(axe_source);
    const {violations} = await page.evaluate(() => window.axe.run(document, {resultTypes: ["violations"]}));
    const faults = violations.map((each) => `${each.id} (${each.nodes.length}): ${each.help}: ${each.nodes[0].html.slice(0, 120)}`);
    if (laid_out.too_wide > 0) faults.push(`the page is ${laid_out.too_wide} px wider than the screen`);
    if (laid_out.smallest !== null && laid_out.smallest < 9) faults.push(`text in a chart is ${laid_out.smallest.toFixed(1)} px high`);
    for (const url of asked) faults.push(`asks the network for ${url}`);
    console.log(`${file}: ${run.name}: ${faults.length} errors`);
    for (const fault of faults) console.log(`  ${fault}`);
    found += faults.length;
    await page.close();
  }
}
await browser.close();
process.exit(found === 0 ? 0 : 1);
