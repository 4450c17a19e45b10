// Tries search and the choice of light on a finished guide. Needs chromium, and node 22 (or 20 with --experimental-websocket).
// Usage: node --experimental-websocket behaviour.mjs GUIDE.html
import { spawn } from "node:child_process";
import { mkdtempSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";

const page = "file://" + resolve(process.argv[2]);
const profile = mkdtempSync(join(tmpdir(), "guide-"));
const flags = ["--headless", "--no-sandbox", "--disable-gpu", "--no-first-run", "--disable-background-networking"];
const browser = spawn("chromium", [...flags, `--user-data-dir=${profile}`, "--remote-debugging-port=0", page]);

const address = await new Promise((found) => {
  browser.stderr.on("data", (text) => {
    const port = /ws:\/\/[^/]*:(\d+)\//.exec(String(text));
    if (port) found(`http://127.0.0.1:${port[1]}/json`);
  });
});
let target;
for (let tries = 0; tries < 100 && !target; tries += 1) {
  const all = await (await fetch(address)).json();
  target = all.find((one) => one.type === "page" && one.url === page);
  await new Promise((wait) => setTimeout(wait, 100));
}
const socket = new WebSocket(target.webSocketDebuggerUrl);
await new Promise((open) => socket.addEventListener("open", open));
let count = 0;
const ask = (expression) =>
  new Promise((answer) => {
    const id = (count += 1);
    socket.addEventListener("message", (event) => {
      const message = JSON.parse(event.data);
      if (message.id === id) answer(message.result.result.value ?? message.result.exceptionDetails);
    });
    socket.send(JSON.stringify({ id, method: "Runtime.evaluate", params: { expression, returnByValue: true } }));
  });
const check = async (what, expression) => {
  const value = await ask(expression);
  console.log(value === true ? "holds:" : "FAILS:", what, value === true ? "" : JSON.stringify(value));
  if (value !== true) process.exitCode = 1;
};
const seek = (words) =>
  `(() => { const s = document.getElementById("page/seek"); s.value = ${JSON.stringify(words)}; s.dispatchEvent(new Event("input")); })()`;

for (let tries = 0; tries < 100 && (await ask("document.readyState")) !== "complete"; tries += 1);
await check("tools are shown when the script runs", `!document.getElementById("page/tools").hidden`);
await ask(seek("vacuum pump"));
await check("a search finds places", `document.querySelectorAll("[id='page/found'] li").length > 0`);
await ask(`document.querySelector("[id='page/found'] a").click()`);
await check("a find is marked and the list closes", `document.querySelectorAll(".found-here").length === 1 && document.getElementById("page/found").hidden`);
await ask(seek("<img src=x onerror=alert(1)>"));
await check("what is typed stays text", `document.querySelector("[id='page/found'] img") === null && document.getElementById("page/found").textContent.includes("Nothing found")`);
await ask(`document.getElementById("page/light").click()`);
await check("night has a dark paper", `getComputedStyle(document.body).backgroundColor === "rgb(16, 22, 26)"`);
await check("nothing runs over the edge of the page", `document.documentElement.scrollWidth <= innerWidth`);
await check("no style or script but ours", `document.styleSheets.length === 1 && document.scripts.length === 1`);
browser.kill();
