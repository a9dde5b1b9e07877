// What the page does beside what its forms and links do by themselves: parts of drawings open without the page being loaded anew, the
// focus goes where something opened, keypads, swipes and sliders work, and what somebody else changed shows.
"use strict";
(() => {
  const app = () => document.getElementById("app");
  const go = (href, push) => htmx.ajax("GET", href, {source: document.body, target: "#app", select: "#app", swap: "morph:outerHTML", push: push ? href : undefined});

  // Links in drawings are none that htmx takes by itself.
  document.addEventListener("click", e => {
    const a = e.target.closest && e.target.closest("svg a[href]");
    if (!a || e.ctrlKey || e.metaKey || e.shiftKey || e.button !== 0) return;
    e.preventDefault();
    const href = a.getAttribute("href");
    go(href.split("#")[0], true).then(() => history.replaceState(history.state, "", href));
  });

  // The heading of what opened takes the focus, so that it is heard and keys go on from there.
  let part = null;
  const opened = () => {
    const card = document.querySelector("#card, #step");
    const now = card ? card.id + (card.dataset.part || card.querySelector("h2").textContent) : null;
    if (now && now !== part) {
      const h = card.querySelector("h2");
      h.focus({preventScroll: true});
      card.scrollIntoView({block: "start"});
    }
    part = now;
  };
  // After a line was read the next one is typed: the field is empty and keeps the focus.
  let typed = false;
  document.addEventListener("htmx:beforeRequest", e => { typed = e.detail.elt.classList && e.detail.elt.classList.contains("type-line"); });
  document.addEventListener("htmx:afterSettle", () => {
    if (typed) {
      const line = document.getElementById("line");
      if (line) { line.value = line.getAttribute("value") || ""; line.focus({preventScroll: true}); }
      typed = false;
    }
    ready();
  });

  // Keys of the pad write into the field above them.
  document.addEventListener("click", e => {
    const key = e.target.closest(".pad button");
    if (!key) return;
    const input = key.closest(".step").querySelector(".big input[name=answer]");
    input.value = key.dataset.key === "back" ? input.value.slice(0, -1) : input.value + key.textContent;
    input.dispatchEvent(new Event("input", {bubbles: true}));
  });
  document.addEventListener("click", e => { if (e.target.closest("button.print")) window.print(); });

  // A slider tells where it stands, and shows what that would be when it is let go.
  document.addEventListener("input", e => {
    if (!e.target.matches("input[type=range]")) return;
    const out = e.target.form.querySelector("output");
    out.value = e.target.value + " " + out.dataset.unit;
  });

  // A swipe across the drawing, or an arrow on the row of ways, goes to the next way.
  let from = null;
  const step = n => {
    const ways = [...document.querySelectorAll(".ways a")];
    const at = ways.findIndex(a => a.hasAttribute("aria-current"));
    const to = ways[at + n];
    if (to) { to.click(); return to; }
  };
  document.addEventListener("touchstart", e => { from = e.target.closest(".drawn") && e.touches.length === 1 ? e.touches[0] : null; }, {passive: true});
  document.addEventListener("touchend", e => {
    if (!from) return;
    const x = e.changedTouches[0].clientX - from.clientX, y = e.changedTouches[0].clientY - from.clientY;
    from = null;
    if (Math.abs(x) > 60 && Math.abs(y) < 40) step(x < 0 ? 1 : -1);
  }, {passive: true});
  document.addEventListener("keydown", e => {
    if (!e.target.closest || !e.target.closest(".ways")) return;
    const n = {ArrowRight: 1, ArrowLeft: -1}[e.key];
    if (n) { e.preventDefault(); const to = step(n); if (to) to.focus(); }
  });

  // What somebody else changed shows; what is being typed here stays.
  const look = async () => {
    const head = document.querySelector(".head");
    if (!head || document.hidden) return;
    try {
      const r = await fetch("/revision/" + head.dataset.file + "?have=" + head.dataset.revision, {credentials: "same-origin"});
      if (r.status !== 200) return;
      Idiomorph.defaults.ignoreActiveValue = true;
      await go(location.pathname + location.search.replace(/([?&])done=[^&]*&?/, "$1"), false);
    } catch { /* asleep, or stopped: the next look tells */ } finally {
      Idiomorph.defaults.ignoreActiveValue = false;
    }
  };
  setInterval(look, 2000);
  document.addEventListener("visibilitychange", look);

  const ready = () => {
    document.querySelectorAll(".pad, button.print").forEach(e => { e.hidden = false; });
    opened();
  };
  document.addEventListener("DOMContentLoaded", ready);
  if (document.readyState !== "loading") ready();
})();
