"use strict";
// A touch screen as the terminal's keyboard and mouse: key bar, swipes, no soft keyboard unless asked, reconnection.
(() => {
  const start = window.onload;
  window.onload = null;

  const send = (text) => {
    const socket = window.splitlineSocket;
    if (socket && socket.readyState === WebSocket.OPEN) socket.send(JSON.stringify(["stdin", text]));
  };

  // The picture is measured in the shipped font: wait for it, but never for long.
  const begin = () => {
    const font = document.fonts.load("16px 'Roboto Mono'");
    const late = new Promise((done) => setTimeout(done, 2000));
    Promise.race([font, late]).finally(() => { start(); tame(); });
  };
  if (document.readyState === "complete") begin(); else window.addEventListener("load", begin);

  let typing = false;
  const tame = () => {
    const area = document.querySelector(".xterm-helper-textarea");
    if (area) area.inputMode = typing ? "text" : "none";
  };

  document.querySelectorAll("#bar [data-send]").forEach((button) => {
    button.addEventListener("click", () => send(button.dataset.send));
  });
  document.getElementById("type").addEventListener("click", (event) => {
    typing = !typing;
    event.target.setAttribute("aria-pressed", String(typing));
    tame();
    const area = document.querySelector(".xterm-helper-textarea");
    if (area) { area.blur(); if (typing) area.focus(); }
  });

  const size = () => parseInt(new URLSearchParams(location.search).get("fontsize") || "16", 10);
  const resize = (change) => {
    const next = Math.max(8, Math.min(40, size() + change));
    location.replace(location.pathname + "?fontsize=" + next);
  };
  document.getElementById("smaller").addEventListener("click", () => resize(-2));
  document.getElementById("larger").addEventListener("click", () => resize(2));

  // A swipe scrolls what is under the finger: the terminal understands wheels, not fingers.
  let last = null;
  const screen = () => document.querySelector(".xterm-screen");
  document.addEventListener("touchstart", (event) => {
    last = event.touches.length === 1 ? event.touches[0].clientY : null;
  }, { passive: true });
  document.addEventListener("touchmove", (event) => {
    const target = screen();
    if (last === null || !target || event.touches.length !== 1) return;
    const touch = event.touches[0];
    const moved = last - touch.clientY;
    if (Math.abs(moved) < 16) return;
    last = touch.clientY;
    target.dispatchEvent(new WheelEvent("wheel", {
      deltaY: moved, deltaMode: 0, clientX: touch.clientX, clientY: touch.clientY, bubbles: true, cancelable: true,
    }));
  }, { passive: true });

  // The link is gone: ask until the server answers, then come back to where the record stands.
  const retry = async () => {
    try {
      const answer = await fetch("/alive", { cache: "no-store" });
      if (answer.ok) { location.reload(); return; }
    } catch (error) { /* not there yet */ }
    setTimeout(retry, 1000);
  };
  new MutationObserver(() => {
    if (document.body.classList.contains("-closed") && !document.body.dataset.retrying) {
      document.body.dataset.retrying = "yes";
      setTimeout(retry, 700);
    }
  }).observe(document.body, { attributes: true, attributeFilter: ["class"] });
  document.addEventListener("visibilitychange", () => {
    const socket = window.splitlineSocket;
    if (!document.hidden && socket && socket.readyState > 1) retry();
  });
})();
