// A pressure with its rate of change: a critically damped second-order filter (both gains from one time constant).

export type Trend = { readonly value: number; readonly perS: number; readonly atMs: number };

export function updateTrend(
  trend: Trend | undefined,
  value: number | undefined,
  nowMs: number,
  timeConstantS: number,
): Trend | undefined {
  if (value === undefined) return undefined;
  if (trend === undefined) return { value, perS: 0, atMs: nowMs };
  const dtS = (nowMs - trend.atMs) / 1000;
  if (!(dtS > 0)) return trend;
  const fade = Math.exp(-dtS / timeConstantS);
  const predicted = trend.value + trend.perS * dtS;
  const innovation = value - predicted;
  return {
    value: predicted + (1 - fade * fade) * innovation,
    perS: trend.perS + ((1 - fade) ** 2 / dtS) * innovation,
    atMs: nowMs,
  };
}
