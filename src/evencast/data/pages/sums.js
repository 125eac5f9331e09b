"use strict";
/* The small sums of the set. `known` stands before this: numbers and marks as the program has them.
   Everything here is a function of what it is given: no page, no clock, no state. */

/* Numbers in, numbers out. */
const sums = {
  stopsOfRatio: (ratio) => Math.log2(ratio),
  ratioOfStops: (stops) => 2 ** stops,
  movingStops: (fromM, toM) => 2 * Math.log2(fromM / toM),
  distanceFor: (fromM, stops) => fromM * 2 ** (-stops / 2),
  scrimStops: (counts) => Object.entries(counts).reduce(
    ([least, most], [name, count]) =>
      [least + count * known.scrim_stops[name][0], most + count * known.scrim_stops[name][1]],
    [0, 0]),
  stopsOfDensity: (density) => density / Math.log10(2),
  densityOfStops: (stops) => stops * Math.log10(2),
  factorOfDensity: (density) => 10 ** density,
  lightOf: (reading, unit) => (unit === "f" ? reading ** 2 : reading),
  readingOf: (light, unit) => (unit === "f" ? Math.sqrt(light) : light),
  keyToFill: (key, fill) => key / fill,
  sumToFill: (key, fill) => (key + fill) / fill,
  fillByKeyToFill: (key, ratio) => key / ratio,
  fillBySumToFill: (key, ratio) => key / (ratio - 1),
  mired: (kelvin) => 1e6 / kelvin,
  miredShift: (fromK, toK) => 1e6 / toK - 1e6 / fromK,
  kelvinAfter: (fromK, shift) => 1e6 / (1e6 / fromK + shift),
  exposureS: (shutterDeg, framesPerS) => shutterDeg / 360 / framesPerS,
  stopsBetween: (fNumber, other) => 2 * Math.log2(other / fNumber),
  /* What a change of index, time and stop does to the picture, + brighter; each alone, then all. */
  pictureStops: (was, is) => {
    const parts = [
      Math.log2(is.index / was.index),
      Math.log2(is.timeS / was.timeS),
      -sums.stopsBetween(was.fNumber, is.fNumber),
    ];
    return [...parts, parts[0] + parts[1] + parts[2]];
  },
  fNumberFor: (was, is) =>
    was.fNumber * Math.sqrt((is.index * is.timeS) / (was.index * was.timeS)),
};

/* Numbers in words, as the program says them. */
const say = {
  /* To the nearest whole number, halves to the even one. */
  whole: (value) => {
    const below = Math.floor(value);
    const over = value - below;
    if (over !== 0.5) return over < 0.5 ? below : below + 1;
    return below % 2 === 0 ? below : below + 1;
  },
  number: (value, digits) => {
    const told = value.toFixed(digits);
    const short = told.includes(".") ? told.replace(/\.?0+$/, "") : told;
    return short === "-0" ? "0" : short;
  },
  three: (value) =>
    (value >= 1000 ? String(say.whole(value)) : say.number(Number(value.toPrecision(3)), 4)),
  thirds: (stops) => {
    const thirds = say.whole(Math.abs(stops) * 3);
    if (thirds === 0) return Math.abs(stops) < 0.05 ? "no stop" : "under 1/3 stop";
    const whole = Math.floor(thirds / 3);
    const pieces = [whole ? String(whole) : "", known.thirds[thirds % 3]];
    return `${pieces.filter(Boolean).join(" ")} ${whole > 1 ? "stops" : "stop"}`;
  },
  stops: (stops) => {
    const told = say.number(Math.abs(stops), 2);
    return `${told} ${Math.abs(stops) > 1 ? "stops" : "stop"}`;
  },
  both: (stops) => {
    const [told, thirds] = [say.stops(stops), say.thirds(stops)];
    return told === thirds ? told : `${told} (${thirds})`;
  },
  change: (stops) => {
    if (say.number(Math.abs(stops), 2) === "0") return "no change";
    return `${say.stops(stops)} ${stops > 0 ? "brighter" : "darker"}`;
  },
  turn: (shift) => {
    const mireds = say.whole(Math.abs(shift));
    return mireds === 0 ? "0 mired" : `${mireds} mired ${shift > 0 ? "warmer" : "cooler"}`;
  },
  mark: (fNumber) => {
    const thirds = say.whole(6 * Math.log2(fNumber)) + known.thirds_below_1;
    if (thirds >= 0 && thirds < known.marks.length) return `f/${known.marks[thirds]}`;
    return fNumber < 1 ? `f/${Number(fNumber.toPrecision(2))}` : `f/${say.whole(fNumber)}`;
  },
};

/* What was typed, as {value} or as {error} in words. */
const typed = (text, { name, least, most, unit, whole, example }) => {
  const plain = text.trim().replace(/\u2212/g, "-").replace(/^([^.,]*),([^.,]*)$/, "$1.$2");
  if (plain === "") return { error: `${name}: nothing is written. Write a number, such as ${example}.` };
  if (!/^[+-]?(\d+\.?\d*|\.\d+)$/.test(plain)) {
    return { error: `${name}: “${text.trim().slice(0, 20)}” is not a number. Write one such as ${example}.` };
  }
  const value = Number(plain);
  if (/^\d{1,3},\d{3}$/.test(text.trim())) {
    return { error: `${name}: “${text.trim()}” may be ${text.trim().replace(",", "")} or ${plain}. Write it without the comma.` };
  }
  const range = `${name}: use ${least} to ${most}${unit ? ` ${unit}` : ""}.`;
  if (!(value >= least && value <= most)) return { error: range };
  if (whole && value !== Math.floor(value)) return { error: `${name}: use a whole number, ${least} to ${most}.` };
  return { value };
};

/* The text of a field after a press on plus or minus: "+50" adds, "*2" doubles, "mark+1" opens or
   closes an iris by a third. What cannot be read starts from the least. */
const stepped = (text, step, least, most) => {
  const found = typed(text, { name: "", least: -Infinity, most: Infinity });
  const from = found.error ? least : found.value;
  const held = (value) => String(Number(Math.min(Math.max(value, least), most).toPrecision(10)));
  if (step.startsWith("*")) return held(from * Number(step.slice(1)));
  if (!step.startsWith("mark")) return held(from + Number(step));
  const place = say.whole(6 * Math.log2(from)) + known.thirds_below_1 + Number(step.slice(4));
  return known.marks[Math.min(Math.max(place, 0), known.marks.length - 1)];
};

/* One function for every sum on the page: values by name in, lines of text out. */
const told = {
  stops: ({ ratio, stops }) => [
    `${say.three(ratio)}:1 is ${say.both(sums.stopsOfRatio(ratio))}.`,
    `${say.stops(stops)} is ${say.three(sums.ratioOfStops(stops))}:1; so much less light is ` +
      `${say.three(100 * sums.ratioOfStops(-stops))} % of it.`,
  ],
  distance: ({ from, to, change }) => [
    `From ${say.three(from)} to ${say.three(to)} m: ${say.change(sums.movingStops(from, to))}.`,
    `For ${say.change(change)}: ${say.three(sums.distanceFor(from, change))} m from the subject.`,
  ],
  scrims: (counts) => {
    const [least, most] = sums.scrimStops(counts);
    if (most === 0) return ["No scrim is in."];
    if (least === most) return [`They take ${say.stops(most)}.`];
    return [`They take ${say.number(least, 2)} to ${say.stops(most)}, by where in the beam one stands: meter it.`];
  },
  density: ({ density, stops }) => [
    `ND ${say.three(density)} takes ${say.both(sums.stopsOfDensity(density))}: filter factor ` +
      `${say.three(sums.factorOfDensity(density))}, ${say.three(100 / sums.factorOfDensity(density))} % passes.`,
    `${say.stops(stops)} is a density of ${say.number(sums.densityOfStops(stops), 2)}.`,
  ],
  ratio: ({ unit, key, fill, wanted }) => {
    const [k, f] = [sums.lightOf(key, unit), sums.lightOf(fill, unit)];
    const shown = (light) => {
      const reading = sums.readingOf(light, unit);
      return unit === "f" ? `${say.mark(reading)} (${say.three(reading)})` : say.three(reading);
    };
    const one = (ratio) => `${say.three(ratio)}:1, ${say.stops(sums.stopsOfRatio(ratio))}`;
    const lines = f > k
      ? ["The fill is brighter than the key: write the brighter of the two as the key."]
      : [`Key to fill ${one(sums.keyToFill(k, f))}. Key + fill to fill ${one(sums.sumToFill(k, f))}.`];
    return [
      ...lines,
      `For ${say.three(wanted)}:1 the fill reads ${shown(sums.fillByKeyToFill(k, wanted))} as key to fill, ` +
        `${shown(sums.fillBySumToFill(k, wanted))} as key + fill to fill.`,
    ];
  },
  mired: ({ from, to, shift }) => {
    const after = sums.kelvinAfter(from, shift);
    const reached = after >= known.least_k && after <= known.most_k;
    return [
      `From ${say.whole(from)} to ${say.whole(to)} K: ${say.turn(sums.miredShift(from, to))}.`,
      reached
        ? `${say.whole(from)} K and ${say.turn(shift)}: ${say.whole(after)} K.`
        : `${say.whole(from)} K and ${say.turn(shift)}: beyond every white that light can have.`,
    ];
  },
  shutter: ({ angle, frames }) => {
    const seconds = sums.exposureS(angle, frames);
    return [`${say.three(angle)} degrees at ${say.three(frames)} frames: 1/${say.three(1 / seconds)} s.`];
  },
  exposure: ({ index, parts, stop, index2, parts2, stop2 }) => {
    const was = { index, timeS: 1 / parts, fNumber: stop };
    const is = { index: index2, timeS: 1 / parts2, fNumber: stop2 };
    const [byIndex, byTime, byStop, all] = sums.pictureStops(was, is);
    const same = sums.fNumberFor(was, is);
    return [
      `The picture: ${say.change(all)}. Index: ${say.change(byIndex)}; shutter: ${say.change(byTime)}; ` +
        `stop: ${say.change(byStop)}.`,
      `As bright as before with the new index and shutter: ${say.mark(same)} (${say.three(same)}).`,
    ];
  },
};

/* The lines of a sum for what was typed, or what is wrong with it in words. */
const answered = (sum, fields) => {
  const values = {};
  const errors = [];
  for (const field of fields) {
    const found = field.choice ? { value: field.text } : typed(field.text, field);
    if (found.error) errors.push(found.error);
    values[field.key] = found.value;
  }
  return errors.length ? { wrong: true, lines: errors } : { wrong: false, lines: told[sum](values) };
};

/* A text in which capitals, accents and widths make no difference. */
const folded = (text) =>
  text.normalize("NFKD").replace(/\p{M}/gu, "").toLowerCase().replace(/ß/g, "ss")
    .replace(/\s+/g, " ").trim();
