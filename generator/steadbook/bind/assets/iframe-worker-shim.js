/* Opened from file://, a browser refuses a worker; this runs the search in a hidden frame instead. */
if (location.protocol === "file:") {
  class FrameWorker extends EventTarget {
    constructor(address) {
      super();
      this.frame = document.createElement("iframe");
      this.frame.hidden = true;
      this.frame.title = "search";
      document.body.appendChild(this.frame);
      const inner = this.frame.contentWindow;
      inner.document.open();
      inner.document.write("<!doctype html><html lang='en'><title>search</title><body></body></html>");
      inner.document.close();
      const load = (source) =>
        new Promise((done, failed) => {
          const script = inner.document.createElement("script");
          script.src = source;
          script.onload = done;
          script.onerror = failed;
          inner.document.body.appendChild(script);
        });
      inner.importScripts = (...sources) =>
        sources.reduce((before, source) => before.then(() => load(source)), Promise.resolve());
      inner.postMessage = (data) => this.dispatchEvent(new MessageEvent("message", { data }));
      this.ready = load(address);
    }
    postMessage(data) {
      this.ready.then(() =>
        this.frame.contentWindow.dispatchEvent(new MessageEvent("message", { data }))
      );
    }
    terminate() {
      this.frame.remove();
    }
  }
  window.IFrameWorker = FrameWorker;
  window.Worker = FrameWorker;
}
