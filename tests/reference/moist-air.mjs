// Records what the psychrolib npm package gives for random states of moist air, for MoistAirReferenceTests.
// Run by hand, from any folder with psychrolib installed:
//
//   npm install psychrolib@1.1.1
//   NODE_PATH=node_modules node .../tests/reference/moist-air.mjs .../tests/ConsultDesk.Calculations.Tests/Air/moist-air-reference.csv.gz
//
// The states are a fixed row of pseudo-random numbers, so that a second run gives the same file.
import { createRequire } from 'node:module';
import { writeFileSync } from 'node:fs';
import { gzipSync } from 'node:zlib';

const require = createRequire(process.cwd() + '/');
const air = require('psychrolib');
const packageVersion = require('psychrolib/package.json').version;
air.SetUnitSystem(air.SI);

const states = 10000;
const lines = [];

// Linear congruential generator of Numerical Recipes, 32 bits.
let seed = 20261130;
const random = () => (seed = (Math.imul(seed, 1664525) + 1013904223) >>> 0) / 4294967296;
const between = (low, high) => low + (high - low) * random();
const digits = (value, count) => String(Number(value.toPrecision(count)));

lines.push(`# npm psychrolib ${packageVersion} (library 2.5.0, ASHRAE Handbook Fundamentals 2017 ch. 1; MIT), Node ${process.version}`);
lines.push(`# ${states} random states: -60 to 80 C, -300 to 5000 m, 0.5 to 100 % of saturation over ice below 0.01 C and over water above`);
lines.push('# in: t C, z m, saturation %; out: pressure Pa, dew or frost point C, wet bulb C, humidity ratio kg/kg, enthalpy J/kg, volume m3/kg;');
lines.push('# back: humidity ratio of t with that wet bulb, saturation % of t with that dew point');
lines.push('t,z,saturation,p,dew,wet,w,h,v,w_of_wet,saturation_of_dew');
let written = 0;
while (written < states) {
  const t = Number(between(-60, 80).toFixed(2));
  const z = Math.round(between(-300, 5000));
  const percent = Number(between(0.5, 100).toFixed(2));
  const p = Number(air.GetStandardAtmPressure(z).toFixed(1));
  const vapour = air.GetVapPresFromRelHum(t, percent / 100);
  // Its dew point equations end at -100 C.
  if (vapour < 1.05 * air.GetSatVapPres(-100)) {
    continue;
  }

  const dew = Math.min(t, Number(air.GetTDewPointFromVapPres(t, vapour).toFixed(3)));
  const w = air.GetHumRatioFromVapPres(vapour, p);
  const wet = Math.min(t, Number(air.GetTWetBulbFromHumRatio(t, w, p).toFixed(3)));
  lines.push([
    t, z, percent, p, dew, wet, digits(w, 6),
    digits(air.GetMoistAirEnthalpy(t, w), 7),
    digits(air.GetMoistAirVolume(t, w, p), 6),
    digits(air.GetHumRatioFromTWetBulb(t, wet, p), 6),
    digits(100 * air.GetRelHumFromTDewPoint(t, dew), 6),
  ].join(','));
  written++;
}

writeFileSync(process.argv[2], gzipSync(lines.join('\n') + '\n', { level: 9 }));
