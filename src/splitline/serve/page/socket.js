"use strict";
// The tablet's end of the link. Keeps the terminal and its socket within reach; asks the program twice a second whether
// it lives; stamps every touch with the picture that was on the glass; lets none through while the link is dead.
(() => {
  const BEAT = 500;      // ms between questions
  const DEAD = 2500;     // ms without an answer after which the glass says so; with the watch below, within 3 s
  const ANEW = 5000;     // ms after that a new session is tried
  const REPLY = /^\x1b\[\?[\d;]+\$y$/; // the terminal's own answer to the program, not a touch
  const link = window.splitlineLink = { picture: 0, socket: null, onState: null, onFeel: null };
  let asked = 0;
  let sent = new Map();
  let last = null;       // { sent, heard, at }: the last question answered, and the program's clock in it
  let opened = performance.now();
  let closed = false;

  // connecting: not one answer yet; alive; dead: what is touched now would be lost or come too late
  link.state = () => {
    const now = performance.now();
    if (closed) return "dead";
    if (last) return now - last.sent > DEAD ? "dead" : "alive";
    return now - opened > 20000 ? "dead" : "connecting";
  };
  link.silent = () => performance.now() - (last ? last.sent : opened);
  link.overdue = () => closed || (link.state() === "dead" && link.silent() > DEAD + ANEW);
  link.closed = () => closed;
  const clock = () => (last ? last.at + (performance.now() - last.heard) / 1000 : null);

  const Native = window.WebSocket;
  window.WebSocket = class extends Native {
    constructor(...args) {
      super(...args);
      window.splitlineSocket = link.socket = this;
      opened = performance.now();
      this.addEventListener("close", () => { closed = true; });
      this.addEventListener("open", () => link.beat());
      this.addEventListener("message", (event) => {
        if (typeof event.data !== "string") return;
        const [kind, said] = JSON.parse(event.data);
        if (kind === "beat" && sent.has(said.n)) {
          last = { sent: sent.get(said.n), heard: performance.now(), at: said.at };
          for (const n of sent.keys()) if (n <= said.n) sent.delete(n);
        }
        if (kind === "feel" && link.onFeel) link.onFeel(said.what);
        if (kind === "typing" && link.onTyping) link.onTyping(said.asked);
        if (kind === "reading" && link.onReading) link.onReading(said.large);
      });
    }
    send(data) {
      if (typeof data === "string" && data.startsWith('["stdin"')) {
        const [kind, text] = JSON.parse(data);
        if (!REPLY.test(text)) {
          if (link.state() !== "alive") { link.refused = true; return; } // never queued
          data = JSON.stringify([kind, text, link.picture, clock()]);
        }
      }
      if (typeof data === "string" && data.startsWith('["resize"') && link.cell) {
        const [kind, size] = JSON.parse(data);
        data = JSON.stringify([kind, { ...size, cell: link.cell() }]); // targets are sized for gloves in mm
      }
      super.send(data);
    }
  };
  link.beat = () => {
    const socket = link.socket;
    if (!socket || socket.readyState !== Native.OPEN) return;
    asked += 1;
    sent.set(asked, performance.now());
    if (socket.bufferedAmount < 4096) socket.send(JSON.stringify(["beat", asked])); else sent.delete(asked);
  };
  setInterval(link.beat, BEAT);

  // A picture counts once it is on the glass, two frames after the terminal has read its number.
  link.watch = (terminal) => terminal.parser.registerOscHandler(7411, (text) => {
    const number = parseInt(text, 10);
    requestAnimationFrame(() => requestAnimationFrame(() => { link.picture = Math.max(link.picture, number); }));
    return true;
  });

  // The library keeps its terminal to itself; the first thing it sets on it is this key.
  Object.defineProperty(Object.prototype, "websocket_url", {
    configurable: true,
    set(value) {
      delete Object.prototype.websocket_url;
      window.splitlineTerminal = this;
      this.websocket_url = value;
    },
  });
})();
