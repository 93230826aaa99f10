// Writes parts.csv: how two npm packages count and cut texts around the limits of a short message. Only needed to
// renew the file: npm install split-sms@0.1.7 sms-segments-calculator@1.3.0 && node parts.mjs
//
// The cuts are split-sms's; sms-segments-calculator must agree on the encoding and on the number of parts, or the
// script stops. The texts keep out of two places where these packages are known to leave the standards: the second
// takes a carriage return with a line feed for one character outside the alphabet, and never cuts inside what is drawn
// as one letter, such as a letter with a loose accent.

import { createRequire } from "node:module";
import { writeFileSync } from "node:fs";

// From the folder where the packages were installed.
const require = createRequire(`${process.cwd()}/`);
const { split } = require("split-sms");
const { SegmentedMessage } = require("sms-segments-calculator");
const version = (name) => require(`${name}/package.json`).version;

// A text is runs: [character, how often].
const cases = [];
const add = (...runs) => cases.push(runs.filter(([, times]) => times > 0));

// Plain septets and plain code units around every limit up to four parts.
for (const limit of [1, 160, 306, 459, 612]) for (let d = -1; d <= 1; d++) add(["a", limit + d]);
for (const limit of [70, 134, 201, 268]) for (let d = -1; d <= 1; d++) add(["ç", limit + d]);
// One extension character, and three, at each place around each cut.
for (const cut of [153, 306, 459])
  for (let at = cut - 4; at <= cut + 2; at++)
    for (const times of [1, 3]) for (const after of [0, 1, 8, 152]) add(["a", at], ["€", times], ["b", after]);
// The same around the end of a single message.
for (let at = 155; at <= 161; at++) for (const after of [0, 1]) add(["a", at], ["{", 1], ["b", after]);
// Nothing but extension characters: 80 are one message, and each part holds 76.
for (const times of [79, 80, 81, 152, 153, 228, 229]) add(["^", times]);
// A character beyond the Basic Multilingual Plane around each cut and around the end of a single message.
for (const cut of [67, 70, 134, 201])
  for (let at = cut - 3; at <= cut + 1; at++)
    for (const times of [1, 2]) for (const after of [0, 1, 66]) add(["ж", at], ["🌱", times], ["ş", after]);
for (const times of [34, 35, 36, 66, 67, 99, 100]) add(["🌱", times]);
// An extension character counts once in UCS-2.
for (const times of [68, 69, 70, 133, 134]) add(["€", times], ["ç", 1]);
// Mixtures, from a generator that gives the same numbers everywhere (Park and Miller, minimal standard).
let seed = 2026;
const below = (n) => (seed = (seed * 16807) % 2147483647) % n;
const gsm = ["a", "é", "€", "[", "|", "@", " ", "\n", "\f", "Ç", "Ω"];
const any = [...gsm, "ç", "ж", "🌱", "💧", "水"];
for (let n = 0; n < 160; n++) {
  const letters = n % 2 ? gsm : any;
  add(...Array.from({ length: 4 + below(30) }, () => [letters[below(letters.length)], 1 + below(20)]));
}

const lines = cases.map((runs) => {
  const text = runs.map(([c, times]) => c.repeat(times)).join("");
  const cut = split(text);
  const encoding = cut.characterSet === "GSM" ? "gsm7" : "ucs2";
  const other = new SegmentedMessage(text);
  const otherEncoding = other.encodingName === "GSM-7" ? "gsm7" : "ucs2";
  if (otherEncoding !== encoding || other.segmentsCount !== cut.parts.length)
    throw new Error(`${JSON.stringify(runs)}: ${encoding} ${cut.parts.length}, ${otherEncoding} ${other.segmentsCount}`);
  // split-sms counts septets as bytes in GSM, and two bytes a code unit in Unicode.
  const units = cut.parts.map((part) => (encoding === "gsm7" ? part.bytes : part.bytes / 2));
  const spelled = runs.map(([c, times]) => `${c.codePointAt(0).toString(16).toUpperCase()}*${times}`).join(" ");
  return `${spelled},${encoding},${units.join(" ")}`;
});
const head = `# Made by parts.mjs with npm split-sms ${version("split-sms")}, checked against sms-segments-calculator ${version("sms-segments-calculator")}, Node ${process.versions.node}.
# text: runs of a character (code point in hexadecimal) and how often it stands; units: of each part, in order.
text,encoding,units
`;
writeFileSync(new URL("parts.csv", import.meta.url), head + lines.join("\n") + "\n");
console.log(lines.length, "texts");
