// What the machine says while it fills its tank from a supply cylinder.
import type { Wording } from './notice.ts';

export const FILL_WORDINGS = {
  'cylinder-refused': {
    severity: 'warning',
    text: 'The identifier shows {refrigerant} at {purity} % in the cylinder; the tank holds {wanted} and takes nothing below {minimum} %. The job stopped before any valve opened: one wrong cylinder spoils the whole tank.',
    remedy: 'Close the cylinder, label it, and take one that holds {wanted}.',
  },
  'tank-without-room': {
    severity: 'warning',
    text: 'The tank holds {net} kg. With {margin} kg kept below its limit of {limit} kg it has room for {room} kg, and {wanted} kg are asked for. The job stopped before any valve opened.',
    remedy: 'Ask for less, or change to a tank with room.',
  },
  'cylinder-pressure-unknown': {
    severity: 'warning',
    text: 'No sensor says what pressure the cylinder has. The job stopped with every valve shut.',
    remedy: "Mend the high-side pressure sensor. Close the cylinder's valve before the hose comes off.",
  },
  'cylinder-without-pressure': {
    severity: 'warning',
    text: 'The hose from the cylinder stands at {pressure} kPa absolute: the cylinder is empty, or its valve is shut. Nothing was drawn, because air would come with it.',
    remedy: "Open the cylinder's valve, or take another cylinder, and start again.",
  },
  'too-cold-to-fill': {
    severity: 'warning',
    text: 'At {temperature} °C, or with no thermometer to tell, the room may not give enough heat to boil the liquid before it reaches the compressor. The job stopped with every valve shut.',
    remedy: 'Fill in a room of 10 °C or more.',
  },
  'cylinder-above-saturation': {
    severity: 'warning',
    text: "The cylinder stands {excess} kPa above the vapour pressure at the room's temperature: it is warmer than the room, or there is air or another refrigerant in it. The job stopped with every valve shut, because the tank would be spoilt.",
    remedy:
      'Close the cylinder. Let it stand until it has the temperature of the room, then start again; if it still stands too high, do not use it.',
  },
  'cylinder-below-saturation': {
    severity: 'advice',
    text: "The cylinder stands {shortage} kPa below the vapour pressure at the room's temperature: it is cold, or holds no liquid any more. The machine goes on.",
    remedy: 'Weigh the cylinder if you want to know which it is.',
  },
  'fill-takes-time': {
    severity: 'information',
    text: 'Liquid would wreck the compressor, so the machine lets it in by short openings and waits until each has boiled away: about {rate} kg an hour, {minutes} min for {wanted} kg.',
    remedy: 'Nothing to do. The cylinder stays upside down and its valve open; a warm room is quicker.',
  },
  'cylinder-empty': {
    severity: 'advice',
    text: 'The cylinder gives no more: it stands at {pressure} kPa absolute, and the machine stops above the atmosphere so that no air is drawn in. The tank has gained {filled} kg of {wanted} kg.',
    remedy:
      'Close the cylinder. See that it is no shut valve or kinked hose. An empty non-refillable cylinder is never filled again: have what is left recovered, mark it empty and hand it in.',
  },
  'fill-stalled': {
    severity: 'warning',
    text: 'After {minutes} min the suction still stands at {pressure} kPa absolute: the compressor does not draw the separator dry. The machine lets no more liquid in, draws no more, and ends the filling.',
    remedy: 'Look at the filter, the tank valve and the compressor; warm the separator with warm air.',
  },
  'fill-runs-on': {
    severity: 'warning',
    text: 'Since the last opening of the high-side valve {came} g have come into the tank, four times what one lets in: the valve does not shut, and the cylinder runs on. The machine draws no more and ends the filling.',
    remedy:
      "Close the cylinder's valve at once. Clean or change the high-side valve, and look whether its relay has welded, before the machine is used again.",
  },
  'fill-out-of-time': {
    severity: 'warning',
    text: 'The filling has taken {minutes} min and ends with {filled} kg of {wanted} kg.',
    remedy: 'Run the service again for the rest.',
  },
  'fill-held-back': {
    severity: 'warning',
    text: 'The compressor may not run any longer; see the notices before this one. The filling ends with {filled} kg of {wanted} kg.',
    remedy:
      'Remove the cause, then run the service again for the rest. Without a notice before, check that the scale and the pressure sensors read.',
  },
  'fill-scale-drifts': {
    severity: 'warning',
    text: 'The zero of the scale runs away, so nobody knows how full the tank really is. The filling ends with {filled} kg of {wanted} kg by that scale.',
    remedy:
      'Let the scale warm up, keep draughts and sun off it, look at the cell and its cable, and check its zero before the tank takes more.',
  },
  'air-in-cylinder': {
    severity: 'warning',
    text: "The tank stands {excess} kPa further above its refrigerant's vapour pressure than before: there is air in what the cylinder gives. The machine draws no more and ends the filling.",
    remedy:
      'Do not use this cylinder. Let the tank rest and have its air let off before it charges a vehicle.',
  },
} as const satisfies { readonly [code: string]: Wording };
