// Benches without a kernel: native sliders swap pictures drawn beforehand. No library, nothing stored, nothing sent.
(() => {
  "use strict";

  const PARALLEL = 4;

  class Bench {
    constructor(figure) {
      this.figure = figure;
      this.data = JSON.parse(figure.querySelector(".bench-data").textContent);
      this.image = figure.querySelector(".bench-view img");
      this.source = figure.querySelector(".bench-view source");
      this.cover = figure.querySelector(".bench-cover");
      this.sentence = figure.querySelector(".bench-sentence");
      this.inputs = [...figure.querySelectorAll(".bench-slider input")];
      this.readouts = [...figure.querySelectorAll(".bench-value")];
      this.reset = figure.querySelector(".bench-reset");
      this.phone = window.matchMedia(this.data.media);
      this.pictures = new Map();
      this.live = null;
      figure.bench = this;
      this.grid = this.inputs.map((input) => ({ min: Number(input.min), step: Number(input.step) }));
      this.place = this.data.sliders.map((slider) => slider.start);
      this.listen();
      this.read();
      this.coverUp();
    }

    listen() {
      this.figure.querySelector(".bench-without-script").hidden = true;
      for (const input of [...this.inputs, this.reset]) input.disabled = false;
      for (const input of this.inputs) {
        input.addEventListener("input", () => {
          this.uncover();
          this.read();
        });
      }
      this.reset.addEventListener("click", () => {
        this.inputs.forEach((input, i) => {
          input.value = this.grid[i].min + this.data.sliders[i].start * this.grid[i].step;
        });
        this.read();
      });
      this.figure.querySelector(".bench-guess").addEventListener("change", () => this.uncover());
      this.figure.querySelector(".bench-uncover").addEventListener("click", () => {
        this.uncover();
        this.inputs[0].focus();
      });
      for (const event of ["pointerenter", "focusin", "touchstart"]) {
        this.figure.addEventListener(event, () => this.fetchAll(), { once: true, passive: true });
      }
      this.phone.addEventListener("change", () => this.fetched && this.fetchAll());
      for (const event of ["load", "error"]) {
        this.image.addEventListener(event, () => this.settle(event));
      }
    }

    // The picture stays covered until the learner has predicted, asks for it, or moves a slider.
    coverUp() {
      if (this.figure.querySelector(".bench-guess input:checked")) return;
      this.cover.hidden = false;
      this.figure.classList.add("bench-covered");
    }

    uncover() {
      this.cover.hidden = true;
      this.figure.classList.remove("bench-covered");
    }

    // Where a kernel answers (bench-live.js), it draws; everywhere else the picture nearest to the sliders is shown.
    read() {
      if (this.live && this.live.takes()) return;
      const place = this.inputs.map((input, i) => Math.round((input.value - this.grid[i].min) / this.grid[i].step));
      this.say(place.map((index, i) => this.data.sliders[i].said[index]));
      if (place.join() !== this.place.join()) this.show(place);
    }

    say(words) {
      words.forEach((said, i) => {
        this.readouts[i].textContent = said;
        this.inputs[i].setAttribute("aria-valuetext", said);
      });
    }

    show(place) {
      this.place = place;
      const flat = place.reduce((at, index, i) => at * this.data.sliders[i].said.length + index, 0);
      const sentence = this.data.sentences[flat];
      this.sentence.textContent = sentence;
      this.image.alt = sentence;
      const ready = this.pictures.get(this.address(place));
      if (!(ready && ready.complete)) this.wait();
      this.source.srcset = this.address(place, "narrow");
      this.image.src = this.address(place, "wide");
      this.decodeNeighbours(place);
    }

    wait() {
      this.figure.classList.add("bench-waiting");
      this.figure.setAttribute("aria-busy", "true");
    }

    settle(event) {
      this.figure.classList.remove("bench-waiting");
      this.figure.removeAttribute("aria-busy");
      this.figure.classList.toggle("bench-missing", event === "error");
    }

    address(place, layout = this.phone.matches ? "narrow" : "wide") {
      return this.data.address.replace("{layout}", layout).replace("{key}", place.join("-"));
    }

    picture(address) {
      let picture = this.pictures.get(address);
      if (!picture) {
        picture = new Image();
        picture.src = address;
        this.pictures.set(address, picture);
      }
      return picture;
    }

    // The picture beside the present one is decoded before it is asked for, so that a step shows at once.
    decodeNeighbours(place) {
      place.forEach((index, i) => {
        for (const next of [index - 1, index + 1]) {
          if (next < 0 || next >= this.data.sliders[i].said.length) continue;
          const beside = [...place];
          beside[i] = next;
          this.picture(this.address(beside)).decode().catch(() => {});
        }
      });
    }

    // After the first touch all pictures are fetched, the nearest first, a few at a time.
    async fetchAll() {
      this.fetched = true;
      if (navigator.connection && navigator.connection.saveData) return;
      const here = this.place;
      const distance = (place) => place.reduce((sum, index, i) => sum + Math.abs(index - here[i]), 0);
      const waiting = this.everyPlace()
        .sort((a, b) => distance(a) - distance(b))
        .map((place) => this.address(place));
      const fetchNext = async () => {
        for (let address = waiting.shift(); address; address = waiting.shift()) {
          const picture = this.picture(address);
          if (picture.complete) continue;
          await new Promise((done) => {
            picture.addEventListener("load", done, { once: true });
            picture.addEventListener("error", done, { once: true });
          });
        }
      };
      await Promise.all(Array.from({ length: PARALLEL }, fetchNext));
      this.decodeNeighbours(this.place);
      this.figure.dataset.ready = "yes";
    }

    everyPlace() {
      return this.data.sliders.reduce(
        (places, slider) => places.flatMap((place) => slider.said.map((_, index) => [...place, index])),
        [[]],
      );
    }
  }

  const start = () => document.querySelectorAll("figure.bench").forEach((figure) => new Bench(figure));
  if (document.readyState === "loading") document.addEventListener("DOMContentLoaded", start);
  else start();
})();
