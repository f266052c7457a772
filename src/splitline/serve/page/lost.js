"use strict";
// The whole glass says NOT CONNECTED while the program does not answer; the last instruction stays readable behind it.
// Touches then are refused where everybody sees it. Sound and vibration tell what was stored, refused or stopped.
(() => {
  const link = window.splitlineLink;
  const sheet = document.getElementById("lost");
  const said = document.getElementById("refused");
  const WATCH = 200; // ms
  let retrying = false;

  const show = () => {
    const state = link.state();
    document.body.classList.toggle("-dead", state === "dead");
    document.body.classList.toggle("-connecting", state === "connecting");
    if (state !== "dead") said.textContent = "";
    if (link.overdue() && !retrying) { retrying = true; setTimeout(retry, 700); }
  };
  setInterval(show, WATCH);

  // Ask until the server answers, then come back to where the record stands.
  const retry = async () => {
    if (link.state() === "alive") { retrying = false; return; }
    try {
      const answer = await fetch("/alive", { cache: "no-store", signal: AbortSignal.timeout(3000) });
      if (answer.ok) { location.reload(); return; }
      if (answer.status === 403) { // new links were made: asking again helps nobody
        document.querySelector("#lost strong").textContent = "LINK WITHDRAWN";
        document.querySelector("#lost p").textContent = "This link is no longer valid. Ask for the one shown now.";
        return;
      }
    } catch (error) { /* not there yet */ }
    setTimeout(retry, 1000);
  };

  const refuse = (event) => {
    if (link.state() !== "dead") return;
    event.preventDefault();
    event.stopPropagation();
    said.textContent = "That touch was NOT taken.";
    sheet.classList.remove("-shaken");
    void sheet.offsetWidth;
    sheet.classList.add("-shaken");
    feel("refused");
  };
  ["pointerdown", "keydown"].forEach((kind) => document.addEventListener(kind, refuse, { capture: true }));
  document.addEventListener("visibilitychange", () => { if (!document.hidden) { link.beat(); show(); } });

  // Sound and vibration, on or off for this tablet.
  const TONES = { stored: [[880, 0.09]], refused: [[220, 0.16], [220, 0.16]], stop: [[440, 0.3], [330, 0.3], [440, 0.3]] };
  const SHAKES = { stored: 60, refused: [90, 60, 90], stop: [300, 100, 300, 100, 300] };
  const button = document.getElementById("sound");
  const kept = () => { try { return localStorage.getItem("splitline-sound") !== "off"; } catch (error) { return true; } };
  let loud = kept();
  let air = null;
  const label = () => { button.textContent = loud ? "Sound" : "Silent"; button.setAttribute("aria-label", loud ? "sound is on" : "sound is off"); };
  label();
  button.addEventListener("click", () => {
    loud = !loud;
    try { localStorage.setItem("splitline-sound", loud ? "on" : "off"); } catch (error) { /* for this time only */ }
    label();
    if (loud) feel("stored");
  });
  // A browser plays nothing before the first touch.
  document.addEventListener("pointerdown", () => { try { air = air || new AudioContext(); } catch (error) { air = null; } }, { once: true, capture: true });
  const feel = (what) => {
    window.splitlineFelt = what;
    if (!loud || !TONES[what]) return;
    if (navigator.vibrate && navigator.userActivation && navigator.userActivation.hasBeenActive) navigator.vibrate(SHAKES[what]);
    if (!air) return;
    let at = air.currentTime;
    for (const [pitch, length] of TONES[what]) {
      const tone = air.createOscillator();
      const volume = air.createGain();
      tone.frequency.value = pitch;
      volume.gain.value = 0.25;
      tone.connect(volume).connect(air.destination);
      tone.start(at);
      tone.stop(at + length);
      at += length + 0.05;
    }
  };
  link.onFeel = feel;
  show();
})();
