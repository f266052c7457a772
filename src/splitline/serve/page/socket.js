"use strict";
// Keeps the terminal's socket within reach, so that the key bar below can type into it.
(() => {
  const Native = window.WebSocket;
  window.WebSocket = class extends Native {
    constructor(...args) {
      super(...args);
      window.splitlineSocket = this;
    }
  };
})();
