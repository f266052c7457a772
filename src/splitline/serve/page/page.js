"use strict";
// A touch screen as the terminal's keyboard and mouse: key bar, swipes, no soft keyboard unless asked.
(() => {
  const start = window.onload;
  window.onload = null;

  const send = (text) => {
    const socket = window.splitlineSocket;
    if (socket && socket.readyState === WebSocket.OPEN) socket.send(JSON.stringify(["stdin", text]));
  };

  // Size of the text. For fingers: as large as leaves 80 columns and 30 rows, whichever way the tablet is held; on a page
  // that is only read, 50 and 16.
  // A− and A+ go up and down from there and are remembered on the tablet. The address may say one size for all.
  const box = document.getElementById("terminal");
  const fixed = parseInt(new URLSearchParams(location.search).get("fontsize") || "0", 10);
  const pen = document.createElement("canvas").getContext("2d");
  const kept = () => {
    try { return parseInt(localStorage.getItem("splitline-larger") || "0", 10) || 0; } catch (error) { return 0; }
  };
  let larger = kept();
  const cell = (size) => {
    const dots = window.devicePixelRatio || 1;
    pen.font = size + "px 'Splitline Mono', monospace";
    const letter = pen.measureText("W");
    const wide = Math.floor(letter.width * dots) / dots;
    const high = Math.ceil((letter.fontBoundingBoxAscent + letter.fontBoundingBoxDescent) * dots) / dots;
    return [wide, high];
  };
  const room = (size) => {
    const [wide, high] = cell(size);
    return { columns: Math.floor(box.clientWidth / wide), rows: Math.floor(box.clientHeight / high) };
  };
  window.splitlineLink.cell = () => cell(size());
  let large = false;
  const fitting = () => {
    const [columns, rows, most] = large ? [50, 16, 40] : [80, 30, 26];
    let size = 13;
    while (size < most && room(size + 1).columns >= columns && room(size + 1).rows >= rows) size += 1;
    return size;
  };
  const size = () => {
    const base = fixed || (matchMedia("(pointer: coarse)").matches ? fitting() : 16);
    return Math.max(8, Math.min(40, base + larger));
  };
  window.splitlineLink.onReading = (asked) => {
    if (large === asked) return;
    large = asked;
    resize();
  };
  const resize = () => {
    const held = window.splitlineTerminal;
    if (!held || !held.terminal) return;
    if (held.terminal.options.fontSize !== size()) held.terminal.options.fontSize = size();
    held.fit();
    held.sendSize(); // the same columns may have another size
  };

  // The picture is measured in the shipped font: wait for it, but never for long.
  const begin = () => {
    const font = document.fonts.load("16px 'Splitline Mono'");
    const late = new Promise((done) => setTimeout(done, 2000));
    Promise.race([font, late]).finally(() => {
      box.dataset.fontSize = String(size());
      start();
      window.splitlineLink.watch(window.splitlineTerminal.terminal);
      tame();
      window.onresize = resize; // rotation and the soft keyboard too
    });
  };
  if (document.readyState === "complete") begin(); else window.addEventListener("load", begin);

  // The keys: as many as have room for a glove, the others behind the last one.
  const bar = document.getElementById("bar");
  const turn = document.getElementById("keys");
  let page = 0;
  const lay = () => {
    const own = [...bar.querySelectorAll("button")].filter((button) => button !== turn);
    const fits = Math.max(Math.floor((innerWidth - 6) / 97), 2);
    const all = own.length <= fits;
    const each = all ? own.length : fits - 1;
    page %= Math.ceil(own.length / each);
    own.forEach((button, i) => { button.hidden = Math.floor(i / each) !== page; });
    turn.hidden = all;
  };
  turn.addEventListener("click", () => { page += 1; lay(); });
  window.addEventListener("resize", () => { page = 0; lay(); });
  lay();

  let typing = false;
  const tame = () => {
    const area = document.querySelector(".xterm-helper-textarea");
    if (area) area.inputMode = typing ? "text" : "none";
  };

  document.querySelectorAll("#bar [data-send]").forEach((button) => {
    button.addEventListener("click", () => send(button.dataset.send));
  });
  const type = document.getElementById("type");
  const letters = (on) => {
    typing = on;
    type.setAttribute("aria-pressed", String(on));
    tame();
    const area = document.querySelector(".xterm-helper-textarea");
    if (area) { area.blur(); if (on) area.focus(); }
  };
  type.addEventListener("click", () => letters(!typing));
  // A browser shows its keyboard at a touch only: where letters are asked for the key says so; afterwards the keyboard goes.
  window.splitlineLink.onTyping = (asked) => {
    type.classList.toggle("-asked", asked);
    if (!asked && typing) letters(false);
  };

  const grow = (change) => {
    larger += change;
    try { localStorage.setItem("splitline-larger", String(larger)); } catch (error) { /* for this time only */ }
    resize();
  };
  document.getElementById("smaller").addEventListener("click", () => grow(-1));
  document.getElementById("larger").addEventListener("click", () => grow(1));

  // A swipe scrolls what is under the finger: the terminal understands wheels, not fingers. A finger in a glove smears:
  // under 6 mm it is a tap where it came down, which the browser itself would drop.
  const SMEAR = 36; // CSS px, 6 mm on the densest usual glass
  const STEP = 16;
  let came = null;
  let last = null;
  let pressed = 0;
  const screen = () => document.querySelector(".xterm-screen");
  document.addEventListener("mousedown", (event) => { if (event.isTrusted) pressed = performance.now(); }, { capture: true });
  document.addEventListener("touchstart", (event) => {
    const touch = event.touches.length === 1 ? event.touches[0] : null;
    came = touch && { x: touch.clientX, y: touch.clientY, far: false };
    last = touch && touch.clientY;
  }, { passive: true });
  document.addEventListener("touchmove", (event) => {
    const target = screen();
    if (came === null || !target || event.touches.length !== 1) return;
    const touch = event.touches[0];
    came.far = came.far || Math.hypot(touch.clientX - came.x, touch.clientY - came.y) >= SMEAR;
    const moved = last - touch.clientY;
    if (!came.far || Math.abs(moved) < STEP) return;
    last = touch.clientY;
    target.dispatchEvent(new WheelEvent("wheel", {
      deltaY: moved, deltaMode: 0, clientX: touch.clientX, clientY: touch.clientY, bubbles: true, cancelable: true,
    }));
  }, { passive: true });
  document.addEventListener("touchend", (event) => {
    const place = came;
    came = null;
    if (place === null || place.far || event.touches.length) return;
    const ended = performance.now();
    setTimeout(() => {
      if (pressed >= ended - 20) return; // the browser made a tap of it
      const under = document.elementFromPoint(place.x, place.y);
      if (!under) return;
      const told = { clientX: place.x, clientY: place.y, bubbles: true, cancelable: true, button: 0, detail: 1, view: window };
      under.dispatchEvent(new MouseEvent("mousedown", { ...told, buttons: 1 }));
      under.dispatchEvent(new MouseEvent("mouseup", told));
      if (under.closest("#bar button")) under.closest("#bar button").click();
    }, 350);
  }, { passive: true });
})();
