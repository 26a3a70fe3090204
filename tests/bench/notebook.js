// The notebook's way to the database beside another library's, in turns and in one run; then a file
// of rolls with their runs, stage by stage. What is measured is left in `window.measured`.
import init, { Notebook } from './bench.js';
import { Dexie } from './dexie.mjs';

const COUNT = 10_000;
const ROUNDS = 5;
const PUTS = 40;
const WITH_RUNS = 2_000;
const WORDS = 'place 700 ';

const now = performance.now.bind(performance);
const median = (times) => [...times].sort((a, b) => a - b)[times.length >> 1];
const took = async (work) => {
  const began = now();
  await work();
  return now() - began;
};

window.addEventListener('unhandledrejection', ({ reason }) => (window.measured = { failed: String(reason) }));
const { memory } = await init();
const ours = new Notebook(COUNT);
const objects = ours.texts().map((text) => JSON.parse(text));
const words = objects.map((roll) => Object.values(roll).join(' ').toLowerCase());
const theirs = new Dexie('dexie');
theirs.version(1).stores({ records: 'id' });
const strict = new Dexie('dexie-strict', { chromeTransactionDurability: 'strict' });
strict.version(1).stores({ records: 'id' });
await strict.open();

const has = (roll) => Object.values(roll).some((value) => typeof value === 'string' && value.includes(WORDS));
const puts = async (put) => {
  const times = [];
  for (let number = 0; number < PUTS; number += 1) times.push(await took(() => put(number)));
  return median(times);
};
// By name: ours, theirs; each gives nothing, or how long it took where that is not all of it.
const columns = {
  'write all': [() => ours.write_all(), () => theirs.records.bulkPut(objects)],
  'read all': [() => ours.read_all(), () => theirs.records.toArray()],
  'find words in the store': [() => ours.find_kept(WORDS), () => theirs.records.filter(has).toArray()],
  'find words in memory': [
    () => ours.find(WORDS),
    () => words.filter((text) => WORDS.trim().split(' ').every((word) => text.includes(word))),
  ],
  'export to JSON': [() => ours.export(), async () => JSON.stringify(await theirs.records.toArray())],
  'one strict put': [() => puts((number) => ours.put(number)), () => puts((number) => strict.records.put(objects[number]))],
};
const lasting = { 'one strict put': true };

const times = Object.fromEntries(Object.keys(columns).map((name) => [name, [[], []]]));
for (let round = 0; round < ROUNDS; round += 1) {
  await ours.erase();
  await theirs.records.clear();
  for (const [name, pair] of Object.entries(columns)) {
    // Who begins changes, so that neither has the warmer machine.
    for (const side of round % 2 ? [1, 0] : [0, 1]) {
      let said;
      const all = await took(async () => (said = await pair[side]()));
      times[name][side].push(lasting[name] ? said : all);
    }
  }
}
const rows = Object.entries(times).map(([name, [mine, others]]) => [name, median(mine), median(others)]);
const whole = [];
for (let round = 0; round < 3; round += 1) whole.push(await took(() => ours.file()));

// Rolls with their runs.
await ours.erase();
await ours.file_gather();
const text = ours.made_file(WITH_RUNS);
const stages = [];
const stage = async (name, work) => stages.push([name, await took(work)]);
await stage('read the file', () => ours.file_read(text));
await stage('compare it with an empty notebook', () => ours.file_preview());
await stage('keep it', () => ours.file_keep());
await stage('read what is kept', () => ours.file_gather());
await stage('compare it with itself', () => ours.file_preview());
await stage('write the file', () => ours.file_write());
await stage('read it again to compare', () => ours.file_read(text));

window.measured = {
  rows,
  whole: median(whole),
  stages,
  textBytes: text.length,
  wasmBytes: memory.buffer.byteLength,
};
document.getElementById('said').append('done');
