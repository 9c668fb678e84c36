// How much air a flammable refrigerant can spoil.

/** The volume of room air, m³, that this mass brings to a share of its lower flammable limit when it is well mixed. */
export const spoiltAirM3 = (massKg: number, lowerFlammableLimitKgPerM3: number, share = 1): number =>
  massKg / (share * lowerFlammableLimitKgPerM3);
