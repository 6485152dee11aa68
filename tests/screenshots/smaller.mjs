// Writes a PNG of Chromium again with at most 256 colours, so that a picture in the repository stays small.
//   node smaller.mjs FILE...
import { readFileSync, writeFileSync } from 'node:fs';
import { deflateSync, inflateSync, crc32 } from 'node:zlib';

const signature = Buffer.from([137, 80, 78, 71, 13, 10, 26, 10]);

function decode(file) {
  let at = 8;
  const data = [];
  let head;
  while (at < file.length) {
    const length = file.readUInt32BE(at);
    const type = file.toString('latin1', at + 4, at + 8);
    const body = file.subarray(at + 8, at + 8 + length);
    if (type === 'IHDR') head = body;
    if (type === 'IDAT') data.push(body);
    at += length + 12;
  }
  const [width, height, depth, kind] = [head.readUInt32BE(0), head.readUInt32BE(4), head[8], head[9]];
  const size = { 2: 3, 6: 4 }[kind];
  if (depth !== 8 || !size || head[12] !== 0) throw new Error('Expected a PNG of 8 bits a channel with red, green and blue.');
  const raw = inflateSync(Buffer.concat(data));
  const stride = width * size;
  const pixels = Buffer.alloc(stride * height);
  for (let y = 0; y < height; y++) {
    const filter = raw[y * (stride + 1)];
    for (let x = 0; x < stride; x++) {
      const value = raw[(y * (stride + 1)) + 1 + x];
      const left = x >= size ? pixels[(y * stride) + x - size] : 0;
      const up = y > 0 ? pixels[((y - 1) * stride) + x] : 0;
      const corner = x >= size && y > 0 ? pixels[((y - 1) * stride) + x - size] : 0;
      const guess = left + up - corner;
      const [a, b, c] = [Math.abs(guess - left), Math.abs(guess - up), Math.abs(guess - corner)];
      const paeth = a <= b && a <= c ? left : b <= c ? up : corner;
      pixels[(y * stride) + x] = value + [0, left, up, (left + up) >> 1, paeth][filter];
    }
  }
  return { width, height, size, pixels };
}

function chunk(type, body) {
  const named = Buffer.concat([Buffer.from(type, 'latin1'), body]);
  const out = Buffer.alloc(body.length + 12);
  out.writeUInt32BE(body.length, 0);
  named.copy(out, 4);
  out.writeUInt32BE(crc32(named), body.length + 8);
  return out;
}

for (const name of process.argv.slice(2)) {
  const { width, height, size, pixels } = decode(readFileSync(name));
  const count = new Map();
  const colour = at => (pixels[at] << 16) | (pixels[at + 1] << 8) | pixels[at + 2];
  for (let at = 0; at < pixels.length; at += size) count.set(colour(at), (count.get(colour(at)) ?? 0) + 1);
  // The commonest colours are kept as they are, and of the rare ones those furthest from all that is kept: a thin blue arrow
  // must stay blue. The shades between letter and ground go to the nearest.
  const distance = (a, b) => ((a >> 16) - (b >> 16)) ** 2 + ((a >> 8 & 255) - (b >> 8 & 255)) ** 2 + ((a & 255) - (b & 255)) ** 2;
  const common = [...count].sort((a, b) => b[1] - a[1]).map(([c]) => c);
  const palette = common.slice(0, 128);
  const rare = common.slice(128).map(c => ({ c, off: Math.min(...palette.map(kept => distance(c, kept))) }));
  while (palette.length < 256 && rare.length > 0) {
    const furthest = rare.reduce((most, one) => (one.off > most.off ? one : most));
    if (furthest.off === 0) break;
    palette.push(furthest.c);
    for (const one of rare) one.off = Math.min(one.off, distance(one.c, furthest.c));
  }
  const near = new Map(palette.map((c, i) => [c, i]));
  const nearest = c => {
    if (!near.has(c)) {
      let [best, least] = [0, Infinity];
      palette.forEach((p, i) => {
        const d = (((p >> 16) - (c >> 16)) ** 2) + ((((p >> 8) & 255) - ((c >> 8) & 255)) ** 2) + (((p & 255) - (c & 255)) ** 2);
        if (d < least) [best, least] = [i, d];
      });
      near.set(c, best);
    }
    return near.get(c);
  };
  const rows = Buffer.alloc((width + 1) * height);
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) rows[(y * (width + 1)) + 1 + x] = nearest(colour(((y * width) + x) * size));
  }
  const head = Buffer.alloc(13);
  head.writeUInt32BE(width, 0);
  head.writeUInt32BE(height, 4);
  head.set([8, 3, 0, 0, 0], 8);
  const colours = Buffer.from(palette.flatMap(c => [c >> 16, (c >> 8) & 255, c & 255]));
  writeFileSync(name, Buffer.concat([signature, chunk('IHDR', head), chunk('PLTE', colours), chunk('IDAT', deflateSync(rows, { level: 9 })), chunk('IEND', Buffer.alloc(0))]));
}
