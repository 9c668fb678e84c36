// The figures of the model that are not properties of a fluid, each with the line of code that holds it.

export type Parameter = {
  readonly what: string;
  readonly value: string;
  /** Where real parts lie; a dash where nothing is known or none applies. */
  readonly range: string;
  readonly basis: string;
  readonly file: string;
  /** As it stands in that file, white space aside: a test compares. */
  readonly code: string;
};

export type ParameterGroup = { readonly heading: string; readonly parameters: readonly Parameter[] };

/** Parameters of one file, a line each: what | value | range | basis | code. */
function rows(file: string, lines: string): readonly Parameter[] {
  return lines
    .trim()
    .split('\n')
    .map((line) => {
      const cells = line.split(' | ').map((cell) => cell.trim());
      if (cells.length !== 5) throw new Error(`not five cells: ${line}`);
      const [what, value, range, basis, code] = cells as [string, string, string, string, string];
      return { what, value, range, basis, file, code };
    });
}

export const PARAMETERS: readonly ParameterGroup[] = [
  {
    heading: 'Vehicle',
    parameters: [
      ...rows(
        'sim/plant/vehicle.ts',
        `
shares of the internal volume, high side / low side / accumulator | 0.27 / 0.37 / 0.36 | condenser 0.4–0.9, evaporator 0.35–0.9, accumulator 0.7–1.3 L | estimate | 'orifice-tube': { high: 0.27, low: 0.37, vessel: 0.36 }
the same with a receiver | 0.36 / 0.50 / 0.14 | receiver 0.2–0.5 L | estimate | 'expansion-valve': { high: 0.36, low: 0.5, vessel: 0.14 }
bleed of an expansion valve at rest | 0.3 mm | 0.1–0.3 mm | estimate | VALVE_BLEED_BORE_M = 0.3e-3
leak within a compressor at rest | 0.35 mm | 0.2–0.5 mm | estimate | COMPRESSOR_LEAK_BORE_M = 0.35e-3
suction and liquid pipes | 10 mm | 8–16 mm | estimate | PIPE_BORE_M = 10e-3
vehicle compressor | 150 cm³ at 1800 rpm, clearance 0.08, n 1.1, efficiency 0.7 | – | estimate | sweptM3PerS: 150e-6 * 30
metal of condenser and lines | 2600 J/K | ± 40 % | estimate | HIGH_WALL_J_PER_K = 2600
metal of evaporator, suction line and compressor | 2200 J/K | ± 40 % | estimate | LOW_WALL_J_PER_K = 2200
condenser to still air | 12 W/K | 8–20 W/K | estimate | wallUaOutWPerK: 12
evaporator in its box, blower off | 5 W/K | 3–10 W/K | estimate | wallUaOutWPerK: 5
contents to walls of the exchangers, dry / wet | 8 / 60 W/K | – | estimate | wallUaDryWPerK: 8, wallUaWetWPerK: 60
vapour at rest to a colder wall | 400 W/K | 0.4 m² at 1 kW/(m²·K) | estimate | CONDENSING_W_PER_K = 400
liquid that the evaporator's passes trap / that spills, share of the low side | 0.21 / beyond 0.27 | – | estimate | mouthA: { dryAt: 0.21, uncoversAt: 0.27 }
fall from there to the accumulator | 1 kPa: 8 cm of liquid | – | estimate | headPa: 1000
rise of the liquid line to the orifice tube | 3.5 kPa: 30 cm of liquid | – | estimate | LIQUID_LINE_RISE_PA = 3500
wall to the water on it, high / low / vessel | 0.5 / 1 / 0.5 W/K | 0.3–2 W/K | estimate | FILM_UA_W_PER_K = { high: 0.5, low: 1, vessel: 0.5 }
`,
      ),
      ...rows(
        'sim/plant/expansion.ts',
        `
orifice tube / open expansion valve pass the liquid for, between 55 and 2 °C | 5.05 / 8.45 kW | bores 1.7 / 2.2 mm with R-134a (tubes 1.2–1.8 mm), 2.0 / 2.6 mm with R-1234yf | estimate | CAPACITY_W = { 'orifice-tube': 5050, 'expansion-valve': 8450 }
`,
      ),
      ...rows(
        'sim/plant/contents.ts',
        `
where the oil lies, high / low / vessel | 0.2 / 0.5 / 0.3 | – | estimate | OIL_SHARES = { high: 0.2, low: 0.5, vessel: 0.3 }
desiccant | 40 g | 30–60 g | estimate | DESICCANT_KG = 0.04
largest filling of the vessel with liquid at the start | 0.85 | – | estimate | VESSEL_FILL = 0.85
`,
      ),
    ],
  },
  {
    heading: 'Hoses, valves and recovery block',
    parameters: [
      ...rows(
        'sim/profiles.ts',
        `
bore of a service hose | 4.8 mm | 4.8–6.35 mm | common practice (1/4 inch hose) | hoseBoreM: 0.0048
length of a service hose | 1.8 m | 1.5–3 m | common practice | hoseLengthM: 1.8
volume of the manifold | 60 mL | 40–160 mL | estimate | manifoldVolumeM3: 60e-6
swept volume of the recovery compressor | 0.2417 L/s | 10 cm³ at 1450 rpm | estimate | compressorSweptM3PerS: 0.2417e-3
high-pressure cut-out | 25 bar | – | estimate for this class | compressorCutOutPa: 2_500_000
`,
      ),
      ...rows(
        'sim/plant/paths.ts',
        `
service valves, Kv | 0.16 m³/h | 0.05–0.25 | estimate (2.5 mm seat) | SERVICE_VALVE_KV = 0.16
recovery valve, Kv | 0.3 m³/h | – | estimate | RECOVERY_VALVE_KV = 0.3
charge valve, Kv | 0.1 m³/h | 0.05–0.25 | estimate | CHARGE_VALVE_KV = 0.1
vacuum valve, Kv | 1.0 m³/h | – | estimate | VACUUM_VALVE_KV = 1.0
oil valve, Kv | 0.05 m³/h | – | estimate | OIL_VALVE_KV = 0.05
delivery line with filter-drier, check valve and tank valve, Kv | 0.25 m³/h | – | estimate | DELIVERY_KV = 0.25
valve core and coupler depressor as one orifice | 2.2 mm | 1.6–2.8 mm | estimate | COUPLER_BORE_M = 2.2e-3
turbulent friction of half a hose | 4 velocity heads | 3.5–4.5 | f·L/d with f ≈ 0.02 (Darcy, smooth hose at Re 4e4) | HALF_HOSE_VELOCITY_HEADS = 4
reliefs back to the tank | 22 bar over it, Kv 0.05 | – | estimate | RELIEF_PA = 2_200_000
recovery compressor: clearance | 0.05 | 0.03–0.06 | estimate | clearance: 0.05
recovery compressor: exponent of re-expansion | 1.1 | 1.0–1.15 | estimate | polytropicExponent: 1.1
recovery compressor: efficiency | 0.6 | 0.5–0.65 | estimate | efficiency: 0.6
`,
      ),
      ...rows(
        'sim/plant/compressor.ts',
        `
a stopped motor restarts against more than | 3 bar only after 120 s | – | estimate; two minutes are common practice | STALLS_ABOVE_PA = 300_000
`,
      ),
      ...rows(
        'sim/plant/machine.ts',
        `
hose: wall / contents to wall dry, wet / wall to air | 250 J/K / 0.3, 2.5 / 0.6 W/K | – | estimate | wallJPerK: 250, wallUaDryWPerK: 0.3, wallUaWetWPerK: 2.5, wallUaOutWPerK: 0.6
oil separator with filter | 0.4 L | – | estimate | volumeM3: 0.4e-3
condenser coil, down to the check valve at its outlet | 118 mL | 0.25 L class | geometry (6 m of 5 mm) | COIL_M3 = 0.118e-3
condensing refrigerant through coil and fins to the air, fan running | 40 W/K | 25–60 W/K | estimate | COIL_UA_FAN_W_PER_K = 40
the same, fan stopped | 6 W/K | – | estimate | COIL_UA_STILL_W_PER_K = 6
of it the inside of the tube | 120 W/K | – | estimate (0.094 m² at 1.3 kW/(m²·K)) | COIL_INSIDE_W_PER_K = 120
wall to the water on it, separator, condenser and tank | 0.5 W/K | 0.3–2 W/K | estimate | FILM_UA_W_PER_K = 0.5
left in hoses and block by the last job | 0.6 bar | – | estimate | LEFT_FROM_LAST_JOB_PA = 60_000
`,
      ),
    ],
  },
  {
    heading: 'Tank',
    parameters: [
      ...rows(
        'sim/plant/machine.ts',
        `
steel of the tank | 5.7 kJ/K | 5.6–5.9 kJ/K | 12–12.5 kg at 470 J/(kg·K) | wallJPerK: 5_700
tank wall to air | 3 W/K | 2–4 W/K | estimate (0.45 m² at 7 W/(m²·K)) | wallUaOutWPerK: 3
contents to wall, dry / wet | 10 / 120 W/K | – | estimate | wallUaDryWPerK: 10, wallUaWetWPerK: 120
`,
      ),
      ...rows(
        'sim/plant/dip-tube.ts',
        `
width of a tank, over ∛ of its capacity | 1.077: 0.30 m for 21.6 L | – | estimate (as wide as its content is high) | DIAMETER_PER_CUBE_ROOT = 1.077
dip tube ends over the dished bottom | 6 mm | – | common practice; the bottom's crown has the radius D of DIN 28011 and of the 2:1 ellipsoid's pole | END_ABOVE_BOTTOM_M = 6e-3
and takes liquid alone while so much stands over its mouth | 6 mm: 0.6 % of 21.6 L | – | 0.69·(Q²/g)^(1/5) at 20 mL/s, Lubin and Springer (1967), from memory | DIMPLE_M = 6e-3
`,
      ),
      ...rows(
        'sim/plant/tank.ts',
        `
heater | 200 W | 100–400 W | estimate | TANK_HEATER_W = 200
its thermostat opens | 50 °C | 45–50 °C | estimate | THERMOSTAT_OPENS_K = 323.15
its fuse opens | 65 °C | 60–70 °C | estimate | FUSE_OPENS_K = 338.15
air under the top of a rested tank, over the mean | 1 + 7 times | 5–10 | estimate | ENRICHMENT = 7
time for the layers to form | 3 h | diffusion alone (0.2 m)²/1.5e-6 m²/s = 7 h | estimate | SETTLES_S = 3 * 3600
`,
      ),
    ],
  },
  {
    heading: 'Vacuum pump',
    parameters: [
      ...rows(
        'sim/profiles.ts',
        `
pumping speed | 2.0 L/s | 1.4–2.8 L/s | estimate | vacuumPumpM3PerS: 2.0e-3
ultimate pressure | 3 Pa | 2–5 Pa new, two stages | estimate | vacuumPumpUltimatePa: 3
`,
      ),
      ...rows(
        'sim/plant/pump.ts',
        `
ultimate pressure cold, over warm | 1 + 2 times, τ 300 s | 3 times for 5 min | estimate | COLD_EXCESS = 2
rise by water in the oil | 75 Pa/g | 50–100 Pa/g in 0.3 L | estimate | PA_PER_WATER_KG = 75_000
rise by refrigerant in the oil | 50 Pa, τ 240 s | 10–100 Pa for minutes | estimate | PA_WHEN_SATURATED = 50
gas ballast open | 60 Pa | 30–200 Pa | estimate | BALLAST_PA = 60
water leaves the oil, ballast shut / open | 2 h / 20 min | – | estimate | DRIES_S = 7200
`,
      ),
      ...rows(
        'sim/plant/paths.ts',
        `
clearance of a pump at rest | 1.5 mm | 0.1–1 bar·L/s of air | estimate | PUMP_CLEARANCE_BORE_M = 1.5e-3
`,
      ),
    ],
  },
  {
    heading: 'Flow',
    parameters: [
      ...rows(
        'sim/network/flow.ts',
        `
x_T of thin refrigerant vapour, and its fall with 1 − Z | 0.444·(1 − 0.315·y − 0.46·y²) | – | isentropic nozzles of both refrigerants; see the checks | CHOKING_REFRIGERANT = [0.444, 0.315, 0.46]
x_T of air | 0.527 | – | ideal nozzle, γ = 1.4 | CHOKING_AIR = 0.527
x_T of water vapour | 0.509 | – | ideal nozzle, γ = 1.33 | CHOKING_WATER = 0.509
liquid recovery factor F_L² | 0.81 | F_L 0.85–0.95 | IEC 60534-2-1, typical table value 0.9 (from memory) | LIQUID_RECOVERY = 0.81
√Δp straightened below | 1e-3·p + 0.05 Pa | – | numerical | ROUNDING = 1e-3
`,
      ),
      ...rows(
        'sim/network/edge.ts',
        `
molecular conductance of a long tube | 12.1·d³/L in L/s with cm, air | – | vacuum handbook form | molecularM3PerS: (12.1e-3 * boreCm ** 3) / (lengthM * 100)
discharge coefficient of sharp edges | 0.7 | 0.6–0.8 | estimate | SHARP_EDGE = 0.7
viscosity of air that K is stated for | 1.82e-5 Pa·s | – | handbook, 20 °C | AIR_VISCOSITY_PA_S = 1.82e-5
a port at the bottom, but for the dip tube, carries only liquid above | 0.02 | – | estimate | uncoversAt: 0.02
`,
      ),
      ...rows(
        'sim/network/stream.ts',
        `
a port at the top carries liquid from this share of liquid on | 0.9 | – | estimate | VAPOUR_PORT_FROM = 0.9
`,
      ),
      ...rows(
        'sim/network/step-rule.ts',
        `
longest / shortest step | 100 / 1.6 ms | – | numerical | longestS: 0.1, shortestS: 0.0016
longest step while nothing moves that an instrument shows | 500 ms | – | numerical | quietS: 0.5
a pressure that no instrument shows | 0.2 Pa | – | estimate | UNSEEN_PA = 0.2
and as a share of the pressure | 0.01 % | – | estimate | UNSEEN_SHARE = 1e-4
a flow that no scale shows, while it is left alone | 40 mg | – | estimate | UNSEEN_KG = 4e-5
step rejected when prediction and result part by | 3 % (+ 20 Pa) | – | numerical | rejectAbove: 0.03
`,
      ),
      ...rows(
        'sim/network/wall.ts',
        `
a wall counts as wetted from this share of liquid on | 0.05 | – | estimate | FULLY_WETTED_FRACTION = 0.05
`,
      ),
    ],
  },
  {
    heading: 'Oil and water',
    parameters: [
      ...rows(
        'sim/fluids/oil.ts',
        `
χ of R-134a in PAG | 0.715 + 154·(1/T − 1/298.15) | mean error 3.7 % in pressure, largest 18 % | fit to Martz & Jacobi, ACRC TR-68 | interaction: 0.715, interactionK: 154
χ of R-134a in POE | 0.949 + 450.7·(1/T − 1/298.15) | mean error 2.5 %, largest 6 % | fit to Martz & Jacobi, ACRC TR-68 | interaction: 0.949, interactionK: 450.7
largest dissolved volume share of refrigerant | 0.35 | – | estimate; beyond it is liquid beside the oil | MOST_SHARE = 0.35
χ of R-1234yf, added | 0.1 | ± 0.2 | estimate, no open isotherms | INTERACTION_OF_OTHERS = 0.1
heat capacity of oil | 1900 J/(kg·K) | 1700–2100 | handbook range | OIL_HEAT_J_PER_KG_K = 1900
`,
      ),
      ...rows(
        'sim/network/oil.ts',
        `
dissolved refrigerant: shares of film / pools / sump | 0.5 / 0.48 / 0.02 | sump 0.005–0.05 | estimate | SHARES = [0.5, 0.48, 0.02]
their time constants | 60 s / 10 min / 5 h | film of 0.2 mm by diffusion 200 s | estimate | TIMES_S = [60, 600, 18_000]
foam gives off faster, by | 5 times | – | estimate | FOAM_SPEED = 5
`,
      ),
      ...rows(
        'sim/network/water-film.ts',
        `
evaporation per pascal | 2e-6 kg/(s·Pa) | 1e-5 by kinetic theory for 100 cm² | estimate; heat and the way out decide | EVAPORATION_KG_PER_S_PA = 2e-6
`,
      ),
      ...rows(
        'sim/network/moisture.ts',
        `
water in oil at 100 % humidity, PAG / POE | 2 / 0.22 % | 1.5–3 / 0.2–0.25 % | estimate | { PAG: 0.02, POE: 0.0022 }
capacity of the desiccant | 18 % | 15–20 % | estimate | SATURATED_DESICCANT = 0.18
time constants of oil / desiccant | 2 h / 30 min | 1–3 h | estimate | TIMES_S = [7200, 1800]
`,
      ),
      ...rows(
        'sim/plant/oil-service.ts',
        `
viscosity of drained / new oil | 0.08 / 0.11 Pa·s | – | estimate | DRAINED_PA_S = 0.08
`,
      ),
    ],
  },
  {
    heading: 'Engine and cabin',
    parameters: [
      ...rows(
        'sim/plant/engine.ts',
        `
condenser, fan slow / fast | 200 / 560 W/K | 150–600 W/K | estimate | FAN_SLOW_W_PER_K = 200
pressure switches, high cut / low cut | 29 / 1.8 bar | – | typical for the trade, estimate | HIGH_CUT_PA = 2_900_000
engine bay over ambient | 27 K | 15–35 K | estimate | BAY_RISE_K = 27
body of the running compressor over ambient | 48 K | 60–80 °C | estimate | BODY_RISE_K = 48
it cools with | 45 min | 5.4 kJ/K over 2 W/K | estimate | BODY_COOLS_S = 2700
oil in it, of the low side's | 0.7 | – | estimate | OIL_IN_BODY = 0.7
`,
      ),
      ...rows(
        'sim/plant/cabin.ts',
        `
air through the evaporator | 0.115 kg/s | – | common figure for one blower, 400 m³/h | BLOWER_KG_PER_S = 0.115
transfer units of the evaporator | 1.9 | bypass factor 15 % | estimate | TRANSFER_UNITS = 1.9
`,
      ),
    ],
  },
  {
    heading: 'Scale and sensors, good build / hobby build',
    parameters: [
      ...rows(
        'sim/profiles.ts',
        `
scale noise at 10 samples/s | 0.4 / 1.0 g rms | 0.25–1.5 g | project specification | noiseKg: 0.0004
scale span error, σ | 0.03 / 0.1 % | – | project specification | spanErrorSd: 0.0003
scale zero drift, σ | 1 / 3 g/K | 1–10 g/K | project specification | zeroDriftKgPerKSd: 0.001
creep half an hour after 500 g | 0.2 / 0.6 g | 0.1–0.3 g | project specification | creepFraction: 0.0002 / 0.5
hose force on the scale at 6 bar, σ | 10 / 25 g | 10–30 g | project specification | hoseForceKgPerPaSd: 0.01 / HOSE_FORCE_AT_PA
gauge transducers, σ of span | 0.25 / 1 % | – | project specification | gaugeSd: 0.0025
manifold absolute sensor, σ of offset / resolution | 100 Pa, 3 Pa / 400 Pa, 25 Pa | – | project specification | manifold: { offsetSdPa: 100, resolutionPa: 3 }
thermal vacuum sensor | 10 % of reading / not fitted | 10–20 % | project specification | vehicleVacuumRelativeSd: 0.1
temperature, σ | 0.3 / 1 K | – | project specification | temperatureSdK: 0.3
valve dead time, mean ± σ, jitter | 60 ± 15, 5 / 80 ± 25, 15 ms | 10–150 ms | project specification | valve: { deadTimeMs: 60, deadTimeSdMs: 15, jitterMs: 5 }
hose volume known to, σ | 2 / 8 % | – | project specification | hoseVolumeSd: 0.02
`,
      ),
      ...rows(
        'sim/sensors/scale.ts',
        `
creep time constant | 600 s | – | estimate | CREEP_TIME_S = 600
the running machine warms the cell by | 4 K, τ 20 min | – | estimate | CABINET_WARMTH_K = 4
bumps | 50 g to 5 kg, 0.1 to 20 s | – | estimate | BUMP_KG = [0.05, 5]
`,
      ),
      ...rows(
        'sim/sensors/transducers.ts',
        `
electrical noise of a gauge transducer | 0.02 % of span | – | estimate | GAUGE_NOISE = 2e-4
`,
      ),
      ...rows(
        'sim/sensors/thermal-vacuum.ts',
        `
true over indicated of a thermal sensor, water / refrigerant | 0.55 / 0.75 | 0.5–0.6 / 0.5–1 | vacuum literature (from memory) / estimate | TRUE_PER_INDICATED = { water: 0.55, refrigerant: 0.75 }
`,
      ),
      ...rows(
        'sim/sensors/instruments.ts',
        `
lag of a probe clamped on the tank | 60 s | – | estimate | CLAMP_ON_LAG_S = 60
`,
      ),
    ],
  },
];
