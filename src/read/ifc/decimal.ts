/** Decimal numbers as the nearest double, faster than through a text: of a whole number of digits and a power of ten. */

/** The last power of ten that a double holds exactly. */
const EXACT_POWER = 22;
/** Most places behind the point: with 16 digits numbers down to 1e-44, and so what rounding leaves of a zero. */
const MOST_PLACES = 60;
/** Powers of ten as the nearest doubles, and what those lack, as the nearest doubles again. */
const POWERS = Array.from({ length: MOST_PLACES + 1 }, (_, i) => Number(`1e${i}`));
const LACKS = POWERS.map((power, i) => Number(10n ** BigInt(i) - BigInt(power)));
/** A whole number from here on has 15 digits, and no room for another one that a double would hold. */
export const HEAD_IS_FULL = 1e14;
/** Splits a double in two halves of 26 bits. */
const SPLIT = 2 ** 27 + 1;
/** More than the roundings of the remainder, as a share of its terms. */
const DOUBT = 2 ** -49;

/** What rounding took off `product` = a · b, exactly. Source: T. J. Dekker, A floating-point technique for extending the available precision, 1971. */
const rest = (a: number, b: number, product: number): number => {
  const ca = SPLIT * a;
  const cb = SPLIT * b;
  const ah = ca - (ca - a);
  const bh = cb - (cb - b);
  const al = a - ah;
  const bl = b - bh;
  return al * bl - (product - ah * bh - al * bh - ah * bl);
};

/**
 * The double nearest to (head · 10^more + tail) / 10^places; null where this does not tell it for sure.
 * `head` has at most 15 digits and is not 0 where there is a tail; `tail` has `more` digits, at most 4.
 */
export const decimal = (head: number, tail: number, more: number, places: number): number | null => {
  if (places > MOST_PLACES || places < -EXACT_POWER || more > 4) return null;
  if (more === 0 && places <= EXACT_POWER) return places >= 0 ? head / POWERS[places]! : head * POWERS[-places]!;
  if (places < 0) return null;
  const scale = POWERS[more]!;
  const power = POWERS[places]!;
  const product = head * scale;
  const high = product + tail;
  const low = rest(head, scale, product) + (tail - (high - product));
  const quotient = high / power;
  const back = quotient * power;
  const lost = rest(quotient, power, back);
  const left = high - back;
  const lacked = quotient * LACKS[places]!;
  const correction = (left - lost + low - lacked) / power;
  const doubt = (DOUBT * (Math.abs(left) + Math.abs(lost) + Math.abs(low) + Math.abs(lacked))) / power;
  const value = quotient + (correction - doubt);
  return value === quotient + (correction + doubt) ? value : null;
};
