// Search and the choice of day or night. Nothing here is needed for reading.
(() => {
  "use strict";
  const part = (name) => document.getElementById("page/" + name);
  const root = document.documentElement;
  const [tools, seek, found, light] = ["tools", "seek", "found", "light"].map(part);
  tools.hidden = false;

  const dark = window.matchMedia("(prefers-color-scheme: dark)");
  const isNight = () => (root.dataset.light ? root.dataset.light === "night" : dark.matches);
  const showLight = () => light.setAttribute("aria-pressed", String(isNight()));
  light.addEventListener("click", () => {
    root.dataset.light = isNight() ? "day" : "night";
    showLight();
  });
  dark.addEventListener("change", showLight);
  showLight();

  // What can be found: whole lines as a reader sees them, with the chapter they stand in.
  const PLACES = "h2, h3, h4, h5, caption, tbody tr, figcaption, p, main li";
  let lines = null;
  const plain = (text) => text.replace(/\s+/g, " ").trim();
  const isOwn = (place) => !place.closest(".foot, nav, svg, .alternative") && !(place.matches("p, li") && place.closest("tr, figcaption"));
  const rowText = (row) => [...row.cells].map((cell) => plain(cell.innerText)).join(" · ");
  const read = () =>
    [...document.querySelectorAll(".chapter")].flatMap((chapter) => {
      const title = plain(chapter.querySelector(".chapter-title").textContent);
      return [...chapter.querySelectorAll(PLACES)].filter(isOwn).map((place) => {
        const text = place.matches("tr") ? rowText(place) : plain(place.textContent);
        const table = place.matches("tr") ? plain(place.closest("table").caption.textContent) : "";
        return { place, text, title: table ? title + " · " + table : title, folded: (table + " " + text).toLowerCase(), first: place.matches("h2, h3, h4, caption") };
      });
    });

  const go = (place) => {
    found.hidden = true;
    document.querySelectorAll(".found-here").forEach((old) => old.classList.remove("found-here"));
    place.classList.add("found-here");
    place.scrollIntoView({ block: "center" });
  };
  const snippet = (text, word) => {
    const at = Math.max(0, text.toLowerCase().indexOf(word) - 50);
    return (at > 0 ? "… " : "") + text.slice(at, at + 150) + (text.length > at + 150 ? " …" : "");
  };
  const entry = (line, word) => {
    const [item, link, title] = ["li", "a", "b"].map((tag) => document.createElement(tag));
    title.textContent = line.title;
    link.href = "#";
    link.append(title, snippet(line.text, word));
    link.addEventListener("click", (event) => {
      event.preventDefault();
      go(line.place);
    });
    item.append(link);
    return item;
  };
  const look = () => {
    const words = seek.value.toLowerCase().split(/\s+/).filter(Boolean);
    found.replaceChildren();
    found.hidden = words.length === 0;
    if (found.hidden) return;
    lines = lines || read();
    const hits = lines.filter((line) => words.every((word) => line.folded.includes(word)));
    hits.sort((a, b) => Number(b.first) - Number(a.first));
    const count = document.createElement("p");
    count.textContent = hits.length === 0 ? "Nothing found" : hits.length > 40 ? hits.length + " places, the first 40:" : hits.length + (hits.length === 1 ? " place" : " places");
    const list = document.createElement("ol");
    hits.slice(0, 40).forEach((line) => list.append(entry(line, words[0])));
    found.append(count, list);
  };
  seek.addEventListener("input", look);
  seek.addEventListener("keydown", (event) => {
    if (event.key === "Escape") found.hidden = true;
    if (event.key === "Enter") found.querySelector("a")?.click();
  });
  document.addEventListener("click", (event) => {
    if (!event.target.closest(".strip")) found.hidden = true;
  });
})();
