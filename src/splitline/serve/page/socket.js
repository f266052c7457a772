"use strict";
// Keeps the terminal and its socket within reach: the key bar types into the socket, turning the tablet sizes the text.
(() => {
  const Native = window.WebSocket;
  window.WebSocket = class extends Native {
    constructor(...args) {
      super(...args);
      window.splitlineSocket = this;
    }
  };
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
