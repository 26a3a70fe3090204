// Shows the digest, and how long each piece of work takes in this browser.
import init, { digest, work } from './bench.js';

const now = performance.now.bind(performance);
await init();
const said = document.getElementById('said');
said.append(`${digest()}\n`);
for (const name of ['fit, two bottles, five readings', 'fit and arrival, 64 draws', 'two tanks', 'three tanks']) {
  const taken = [];
  for (let round = 0; round < 21; round += 1) {
    const began = now();
    work(name, 4);
    taken.push((now() - began) / 4);
  }
  taken.sort((a, b) => a - b);
  said.append(`${name}: browser median ${taken[10].toFixed(2)} ms\n`);
}
said.append('done\n');
