// Times the psychrolib npm package in Node on random states of moist air, and leaves the states for the C# side.
// Run by `tests/long.sh moist-air`, from a folder with psychrolib installed:
//
//   node .../moist-air-speed.mjs STATES.csv TIMES.csv
//
// Times are processor time, the least of several passes; the mean of each result is given so that both sides can be seen to agree.
import { createRequire } from 'node:module';
import { writeFileSync } from 'node:fs';

const require = createRequire(process.cwd() + '/');
const air = require('psychrolib');
air.SetUnitSystem(air.SI);

const states = 10000;
const passes = 9;
const leastMicroseconds = 100000;

// Linear congruential generator of Numerical Recipes, 32 bits.
let seed = 20261130;
const random = () => (seed = (Math.imul(seed, 1664525) + 1013904223) >>> 0) / 4294967296;
const between = (low, high) => low + (high - low) * random();

// What a van meets, and above 0.01 C, where this package's dew point and ours are over the same water.
const rows = Array.from({ length: states }, () => {
  const t = between(0.5, 45);
  const p = between(75000, 105000);
  const vapour = between(0.05, 1) * air.GetSatVapPres(t);
  return { t, p, vapour: Math.max(vapour, 1.01 * air.GetSatVapPres(0.01)), frost: between(-40, 45) };
}).filter(row => row.vapour <= air.GetSatVapPres(row.t));
for (const row of rows) {
  row.w = air.GetHumRatioFromVapPres(row.vapour, row.p);
}

const functions = {
  'saturation pressure': row => air.GetSatVapPres(row.frost),
  'humidity ratio': row => air.GetHumRatioFromVapPres(row.vapour, row.p),
  'density': row => air.GetMoistAirDensity(row.t, row.w, row.p),
  'enthalpy': row => air.GetMoistAirEnthalpy(row.t, row.w),
  'dew point': row => air.GetTDewPointFromVapPres(row.t, row.vapour),
  'wet bulb': row => air.GetTWetBulbFromHumRatio(row.t, row.w, row.p),
};

const sum = of => {
  let total = 0;
  for (let i = 0; i < rows.length; i++) {
    total += of(rows[i]);
  }
  return total;
};
const microseconds = () => {
  const { user, system } = process.cpuUsage();
  return user + system;
};

const lines = [];
for (const [name, of] of Object.entries(functions)) {
  let least = Infinity;
  let total = 0;
  for (let pass = 0; pass < passes; pass++) {
    const start = microseconds();
    let rounds = 0;
    let spent = 0;
    do {
      total = sum(of);
      rounds++;
      spent = microseconds() - start;
    } while (spent < leastMicroseconds);
    least = Math.min(least, 1000 * spent / (rounds * rows.length));
  }
  lines.push(`${name},${least},${total / rows.length}`);
}

writeFileSync(process.argv[2], rows.map(row => [row.t, row.p, row.vapour, row.w, row.frost].join(',')).join('\n') + '\n');
writeFileSync(process.argv[3], lines.join('\n') + '\n');
