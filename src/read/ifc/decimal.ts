/** Decimal numbers as the nearest double, faster than through a text: of a whole number of digits and a power of ten. */

/** Powers of ten that doubles hold exactly. */
const POWERS = Array.from({ length: 23 }, (_, i) => 10 ** i);
/** Whole numbers of so many digits are doubles. */
export const EXACT_DIGITS = 15;
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
 * The double nearest to (head · 10^more + tail) / 10^places; null where this does not tell it for sure, or the powers are not exact.
 * `head` has at most 15 digits and is not 0 where there is a tail; `tail` has `more` digits, at most 4.
 */
export const decimal = (head: number, tail: number, more: number, places: number): number | null => {
  if (places > 22 || places < -22) return null;
  if (more === 0) return places >= 0 ? head / POWERS[places]! : head * POWERS[-places]!;
  if (places < 0 || more > 4) return null;
  const scale = POWERS[more]!;
  const power = POWERS[places]!;
  const product = head * scale;
  const high = product + tail;
  const low = rest(head, scale, product) + (tail - (high - product));
  const quotient = high / power;
  const back = quotient * power;
  const lost = rest(quotient, power, back);
  const left = high - back;
  const correction = (left - lost + low) / power;
  const doubt = (DOUBT * (Math.abs(left) + Math.abs(lost) + Math.abs(low))) / power;
  const value = quotient + (correction - doubt);
  return value === quotient + (correction + doubt) ? value : null;
};
