// Live benches: the course server adds this script to its pages. Sliders ask a kernel through one socket; the same
// figure shows what comes back. While no kernel answers, the pictures drawn beforehand stay in use (bench.js).
(() => {
  "use strict";

  const SOCKET = new URL("../live", document.currentScript.src);
  // A hub turns away what a page's script fetches, unless the request carries the page's own token.
  const fetched = window.fetch.bind(window);
  window.fetch = (what, how = {}) => {
    const own = typeof what === "string" || what instanceof URL ? new URL(what, document.baseURI).origin === location.origin : false;
    if (!own) return fetched(what, how);
    const [, token = ""] = document.cookie.match(/(?:^|;\s*)_xsrf=([^;]*)/) || [];
    const headers = new Headers(how.headers);
    headers.set("X-XSRFToken", token);
    return fetched(what, { ...how, headers });
  };

  const PATIENCE_MS = 1500;
  const FIRST_PAUSE_MS = 400;
  const LONGEST_PAUSE_MS = 10000;
  const WITHOUT = "Working without live figures until";
  const KEPT = "The sliders keep their places; you see the nearest picture drawn beforehand.";
  const SAID = {
    opening: "The live figures are being started. Until they answer, the sliders show pictures drawn beforehand.",
    starting: "The live figures are being started. Until they answer, the sliders show pictures drawn beforehand.",
    ready: "Live: every place of a slider is calculated as you move it.",
    stopped: `The calculation stopped and is being started again. ${WITHOUT} it answers. ${KEPT}`,
    failed: `The calculation could not be started. ${WITHOUT} it can; move a slider to try again.`,
    resting: "The calculation was put to rest, because nothing moved for a while. Move a slider to wake it.",
    lost: `The connection to the course server was lost. ${WITHOUT} it is back. ${KEPT}`,
    away: `The course server does not answer. ${WITHOUT} it is back. ${KEPT}`,
    out: `You are no longer signed in to the course server. ${WITHOUT} you load this page again and sign in.`,
  };

  // One bench: at most one question is on its way, and only the newest wish follows it.
  class Live {
    constructor(bench, line) {
      this.bench = bench;
      this.line = line;
      this.asked = null;
      this.wish = null;
      this.address = null;
      this.state = document.createElement("p");
      this.state.className = "bench-state";
      bench.figure.querySelector(".bench-view").after(this.state);
      bench.live = this;
      bench.phone.addEventListener("change", () => this.answers && this.ask());
      bench.image.addEventListener("load", () => this.shown());
    }

    get answers() {
      return this.line.state === "ready";
    }

    values() {
      return this.bench.inputs.map((input) => Number(input.value));
    }

    // Called by the bench when a slider moved; true when the answer will come from the kernel.
    takes() {
      if (!this.answers) {
        this.line.touched();
        return false;
      }
      this.ask();
      this.readAhead();
      return true;
    }

    // Where a frame lies its words are known already; in between they come with the answer.
    readAhead() {
      const { bench } = this;
      const words = this.values().map((value, i) => {
        const place = (value - bench.grid[i].min) / bench.grid[i].step;
        const near = Math.round(place);
        return Math.abs(place - near) < 1e-6 ? bench.data.sliders[i].said[near] : bench.readouts[i].textContent;
      });
      bench.say(words);
    }

    ask() {
      this.wish = this.values();
      if (!this.asked) this.send();
    }

    send() {
      const { bench } = this;
      this.asked = { ask: this.line.number(), values: this.wish };
      this.wish = null;
      bench.wait();
      this.line.send({
        ...this.asked,
        bench: bench.figure.dataset.bench,
        layout: bench.phone.matches ? "narrow" : "wide",
        pixels: Math.round(bench.image.clientWidth * window.devicePixelRatio),
      });
      clearTimeout(this.clock);
      this.clock = setTimeout(() => this.instead(), PATIENCE_MS);
    }

    // The picture drawn beforehand for the nearest place, while the kernel is away or slow.
    instead() {
      const { bench } = this;
      bench.place = [];
      const { live } = bench;
      bench.live = null;
      bench.read();
      bench.live = live;
      delete bench.figure.dataset.live;
    }

    hear(answer, picture) {
      if (!this.asked || answer.ask !== this.asked.ask) return;
      const { bench } = this;
      const { values } = this.asked;
      clearTimeout(this.clock);
      this.asked = null;
      if (this.wish) this.send();
      if (answer.lost) return;
      if (answer.trouble) {
        bench.settle(new Event("load"));
        this.say(`This place could not be calculated: ${answer.trouble}`);
        return;
      }
      answer.steps.forEach((step, i) => { bench.inputs[i].step = step; });
      bench.say(answer.said);
      bench.sentence.textContent = answer.sentence;
      bench.image.alt = answer.sentence;
      this.coming = { address: URL.createObjectURL(new Blob([picture], { type: "image/jpeg" })), values };
      bench.place = [];
      bench.source.srcset = this.coming.address;
      bench.image.src = this.coming.address;
    }

    shown() {
      const { coming, bench } = this;
      if (!coming || bench.image.currentSrc !== coming.address) return;
      if (this.address && this.address !== coming.address) URL.revokeObjectURL(this.address);
      this.address = coming.address;
      bench.figure.dataset.live = coming.values.join(" ");
      if (this.asked) bench.wait();
    }

    // The kernel went away: what is on its way is lost, the sliders stay where they are.
    fall() {
      clearTimeout(this.clock);
      this.asked = null;
      this.wish = null;
      this.instead();
    }

    say(words) {
      if (this.state.textContent !== words) this.state.textContent = words;
    }
  }

  // The page's one socket to the course server.
  class Line {
    constructor(figures) {
      this.state = "opening";
      this.asks = 0;
      this.pause = FIRST_PAUSE_MS;
      this.aloud = document.createElement("p");
      this.aloud.className = "bench-aloud";
      this.aloud.setAttribute("role", "status");
      document.querySelector("main, body").append(this.aloud);
      this.lives = figures.map((figure) => new Live(figure.bench, this));
      this.say("opening");
      this.open();
      window.addEventListener("online", () => this.open());
      document.addEventListener("visibilitychange", () => document.hidden || this.open());
      window.addEventListener("pageshow", (event) => event.persisted && this.open());
    }

    number() {
      this.asks += 1;
      return this.asks;
    }

    open() {
      if (this.socket && this.socket.readyState <= WebSocket.OPEN) return;
      clearTimeout(this.clock);
      const address = new URL(SOCKET);
      address.protocol = address.protocol === "https:" ? "wss:" : "ws:";
      const socket = new WebSocket(address);
      socket.binaryType = "arraybuffer";
      socket.addEventListener("message", (event) => this.hear(event.data));
      socket.addEventListener("close", () => socket === this.socket && this.closed());
      this.socket = socket;
      this.opened = false;
    }

    hear(data) {
      if (typeof data === "string") {
        const said = JSON.parse(data);
        if (said.state) this.turn(said.state);
        else this.lives.forEach((live) => live.hear(said));
        return;
      }
      const length = new DataView(data).getUint32(0, true);
      const answer = JSON.parse(new TextDecoder().decode(new Uint8Array(data, 4, length)));
      this.lives.forEach((live) => live.hear(answer, new Uint8Array(data, 4 + length)));
    }

    turn(state) {
      this.opened = true;
      this.pause = FIRST_PAUSE_MS;
      const before = this.state;
      this.state = state;
      this.say(state);
      if (state === "ready") this.lives.forEach((live) => live.ask());
      else if (before === "ready") this.lives.forEach((live) => live.fall());
    }

    async closed() {
      const before = this.state;
      this.state = this.opened ? "lost" : "away";
      if (before === "ready") this.lives.forEach((live) => live.fall());
      if (!this.opened && (await this.signedOut())) this.state = "out";
      this.say(this.state);
      this.opened = false;
      clearTimeout(this.clock);
      this.clock = setTimeout(() => this.open(), this.pause);
      this.pause = this.state === "out" ? LONGEST_PAUSE_MS : Math.min(2 * this.pause, LONGEST_PAUSE_MS);
    }

    async signedOut() {
      try {
        const said = await fetch(`${SOCKET}/state`, { redirect: "manual" });
        return said.type === "opaqueredirect" || said.status === 401 || said.status === 403;
      } catch {
        return false;
      }
    }

    // A slider moved while no kernel answers: wake it, or try the way to the server again at once.
    touched() {
      if (this.socket.readyState === WebSocket.OPEN) {
        if (this.state === "resting" || this.state === "failed") this.lives[0].ask();
      } else if (this.socket.readyState === WebSocket.CLOSED) this.open();
    }

    send(question) {
      if (this.socket.readyState === WebSocket.OPEN) this.socket.send(JSON.stringify(question));
    }

    say(state) {
      this.lives.forEach((live) => live.say(SAID[state]));
      document.documentElement.dataset.live = state;
      if (state !== "opening" && this.spoken) this.aloud.textContent = SAID[state];
      if (state === "ready") this.spoken = true;
    }
  }

  const start = () => {
    const figures = [...document.querySelectorAll("figure.bench")].filter((figure) => figure.bench);
    if (figures.length) document.querySelector("figure.bench").line = new Line(figures);
  };
  if (document.readyState === "loading") document.addEventListener("DOMContentLoaded", start);
  else start();
})();
