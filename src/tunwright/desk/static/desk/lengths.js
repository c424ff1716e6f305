// Lengths as they are typed: read in metres, written back in the unit they had.

const METRES = { m: 1, mm: 0.001, cm: 0.01, in: 0.0254, ft: 0.3048 };
const PIECE = /^\s*([+-]?\d+(?:\.\d+)?)(?:[\s-]+(\d+)\/(\d+))?\s*(mm|cm|m|in|ft|"|')/;
const FRACTION = /^\s*([+-]?)(\d+)\/(\d+)\s*(mm|cm|m|in|ft|"|')/;
const plain = (unit) => ({ '"': "in", "'": "ft" })[unit] || unit;

/** { metres, units } of a typed length, null where it is none. */
export function readLength(text) {
  let rest = String(text ?? "").replace(/(\d)[  ](?=\d{3}(\D|$))/g, "$1").replace("−", "-");
  let metres = 0;
  const units = [];
  while (rest.trim()) {
    const piece = rest.match(PIECE);
    const part = piece || rest.match(FRACTION);
    if (!part) return null;
    const unit = plain(part[4]);
    const number = piece ? Number(part[1]) + (part[2] ? (Number(part[2]) / Number(part[3])) * (part[1].startsWith("-") ? -1 : 1) : 0) : (part[1] === "-" ? -1 : 1) * Number(part[2]) / Number(part[3]);
    metres += metres < 0 ? -number * METRES[unit] : number * METRES[unit];
    units.push(unit);
    rest = rest.slice(part[0].length);
  }
  return units.length ? { metres, units } : null;
}

const trimmed = (number, places) => String(Number(number.toFixed(places)) + 0);

/** A length in the unit another one was typed in. */
export function writeLength(metres, like) {
  const units = readLength(like)?.units || ["m"];
  if (units[0] === "ft" && units.length > 1) {
    const sign = metres < 0 ? "-" : "";
    const inches = Math.round((Math.abs(metres) / METRES.in) * 100) / 100;
    return `${sign}${Math.floor(inches / 12)} ft ${trimmed(inches % 12, 2)} in`;
  }
  const unit = units[0];
  const places = { m: 3, mm: 0, cm: 1, in: 2, ft: 3 }[unit];
  const text = unit === "m" ? (metres + 0).toFixed(places).replace(/0{1}$/, "") : trimmed(metres / METRES[unit], places);
  return `${text} ${unit}`;
}

/** Steps of the keys and the grid of a drag [m], in the world of the unit a value has. */
export function steps(like) {
  const inches = ["in", "ft"].includes(readLength(like)?.units[0]);
  return inches ? { usual: 0.0127, large: 0.1016, fine: 0.0015875 } : { usual: 0.01, large: 0.1, fine: 0.001 };
}

export function signed(metres, like) {
  const inches = ["in", "ft"].includes(readLength(like)?.units[0]);
  const number = inches ? metres / 0.0254 : metres * 1000;
  const words = `${Math.abs(Number(number.toFixed(inches ? 2 : 0)))} ${inches ? "in" : "mm"}`;
  return `${number < 0 ? "−" : "+"}${words}`;
}
