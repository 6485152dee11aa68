// Clients who read a plan by its links, so many a second, each from an address of their own, in a thread of their own: what they see of time is not what the editing pages leave.
import { brotliDecompressSync } from 'node:zlib';
import { parentPort, workerData } from 'node:worker_threads';
import { ask } from './session.mjs';

const { links, perSecond, milliseconds, word } = workerData;
const wait = ms => new Promise(done => { setTimeout(done, ms); });
const [times, failed, under] = [[], [], []];
let refused = 0;
let bytes = 0;
const looked = new Set();
const begin = performance.now();
for (let visit = 0; visit * 1000 / perSecond < milliseconds; visit++) {
  const due = begin + visit * 1000 / perSecond;
  await wait(due - performance.now());
  const link = links[visit % links.length];
  under.push(ask(link, { headers: { 'accept-encoding': 'gzip, deflate, br', 'x-forwarded-for': `198.51.100.${visit % 250}` } }).then(answer => {
    // From when the reader was due: one who is sent late because others are slow has waited all the same.
    const took = performance.now() - due;
    bytes += answer.body.length;
    if (answer.status === 429) {
      refused++;
    } else if (answer.status !== 200) {
      failed.push(`${answer.status}`);
    } else {
      times.push(took);
      if (!looked.has(link)) {
        looked.add(link);
        const page = answer.headers['content-encoding'] === 'br' ? brotliDecompressSync(answer.body).toString('utf8') : answer.body.toString('utf8');
        if (!page.includes(word) || !page.includes('</html>')) {
          failed.push(`not the plan of ${word}`);
        }
      }
    }
  }, error => failed.push(error.message)));
}

await Promise.all(under);
parentPort.postMessage({ times, refused, failed, bytes });
