/** `npm run hostile [-- COUNT SEED]`: malformed requests against a service, and whether it still answers as fast as before. Exits with 1 where it does not. */

import { hostileRequests } from '../service/hostileRequests.js';
import { begun, figureOf } from './program.js';

const count = Number(process.argv[2] ?? 10_000);
const seed = Number(process.argv[3] ?? 1);
const service = await begun(['--request-timeout', '5']);
const port = Number(new URL(service.url).port);

const answersIn = async (): Promise<number> => {
  const from = performance.now();
  const { status } = await fetch(`${service.url}/readyz`);
  if (status !== 200) throw new Error(`the service says ${status}`);
  return performance.now() - from;
};

let slowestMs = 0;
let isOver = false;
const others = (async () => {
  while (!isOver) {
    slowestMs = Math.max(slowestMs, await answersIn());
    await new Promise((resolve) => setTimeout(resolve, 50));
  }
})();
const begunMs = performance.now();
const { sent, byStatus, faults } = await hostileRequests(port, count, seed);
isOver = true;
await others;
const rssMb = figureOf(await (await fetch(`${service.url}/metrics`)).text(), 'process_resident_memory_bytes') / 1e6;
await service.end();
process.stdout.write(
  `${sent} requests in ${((performance.now() - begunMs) / 1000).toFixed(0)} s, seed ${seed}\nanswers by status: ${JSON.stringify(byStatus)}\nslowest answer to another caller: ${slowestMs.toFixed(0)} ms; memory after it: ${rssMb.toFixed(0)} MB\nfaults: ${faults.length}\n${faults.slice(0, 10).join('\n')}\n`,
);
process.exitCode = faults.length > 0 || slowestMs > 5000 ? 1 : 0;
