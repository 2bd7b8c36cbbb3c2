// What base85.go wrote, as bytes again. All of it is done with numbers, for the user waits; the
// letters are taken from the text one by one, as a TextEncoder takes longer than all of this.
const bytesOf = (() => {
  const alphabet = "!#$%()*+,-./0123456789:;=?@ABCDEFGHIJKLMNOPQRSTUVWXYZ[]^_abcdefghijklmnopqrstuvwxyz{|";
  const worth = new Uint8Array(128);
  for (let i = 0; i < alphabet.length; i++) worth[alphabet.charCodeAt(i)] = i;
  return (text) => {
    // The letters that the last five lack are taken as the highest, which leaves its bytes as they are.
    const fives = Math.ceil(text.length / 5), all = text.padEnd(5 * fives, "|");
    const out = new Uint8Array(4 * fives), view = new DataView(out.buffer);
    for (let i = 0, at = 0; i < fives; i++, at += 5) {
      const four = ((worth[all.charCodeAt(at)] * 85 + worth[all.charCodeAt(at + 1)]) * 85 + worth[all.charCodeAt(at + 2)]) * 85 + worth[all.charCodeAt(at + 3)];
      view.setInt32(4 * i, Math.imul(four, 85) + worth[all.charCodeAt(at + 4)]);
    }
    return out.subarray(0, Math.floor(text.length * 4 / 5));
  };
})();
