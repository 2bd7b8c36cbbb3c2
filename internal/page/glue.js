// The worker's end of the script: it unpacks the engine, starts it, and passes acts in
// and replies out. wasm_exec.js of the Go that built the engine and base85.js stand before this.
"use strict";
(() => {
  const fail = (words) => postMessage({ crashed: String(words) });
  self.addEventListener("unhandledrejection", (e) => fail(e.reason));
  self.addEventListener("error", (e) => fail(e.message));

  // The engine is unpacked and compiled while its parts still come in.
  let parts;
  const incoming = new ReadableStream({ start(c) { parts = c; } });
  const compiled = () => {
    const wasm = new Response(incoming.pipeThrough(new DecompressionStream("gzip")), { headers: { "Content-Type": "application/wasm" } });
    return WebAssembly.compileStreaming ? WebAssembly.compileStreaming(wasm) : wasm.arrayBuffer().then((bytes) => WebAssembly.compile(bytes));
  };

  // findriveReply is called by the engine: the number of the act and its reply, or
  // number 0 and what is told while it is done.
  self.findriveReply = (number, reply) => postMessage({ number, reply });

  let started = false;
  self.onmessage = async ({ data }) => {
    if (data.act) return self.findriveAct ? self.findriveAct(data.number, data.act) : fail("the engine is not there");
    if (data.stop) return self.findriveStop && self.findriveStop(data.stop);
    if (data.part) parts.enqueue(bytesOf(data.part));
    if (data.last) parts.close();
    if (started) return;
    started = true;
    try {
      const module = data.module || await compiled();
      if (!data.module) postMessage({ module });
      const go = new Go();
      const ended = go.run(await WebAssembly.instantiate(module, go.importObject));
      postMessage({ ready: true });
      await ended;
      fail("the engine ended");
    } catch (e) {
      fail(e);
    }
  };
})();
