// Text that a person types and that is printed beside other text: one line, which turns nothing else around.

/** No control character, no other line break (U+2028, U+2029), no embedding or override of direction (Unicode UAX #9). */
export const ONE_LINE = /^[^\p{Cc}\p{Zl}\p{Zp}\u202a-\u202e\u2066-\u2069]*$/u;
