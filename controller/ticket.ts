// What is asked for: the vehicle, its refrigerant and charge, and the service.

export const SERVICES = ['whole', 'recover', 'evacuate-and-charge', 'leak-check', 'fill-tank'] as const;
export type Service = (typeof SERVICES)[number];

export type Ticket = {
  readonly service: Service;
  readonly refrigerant: string;
  /** Charge on the vehicle's label. */
  readonly nominalChargeKg: number;
  /** The system was, or will be, open before the evacuation. */
  readonly opened: boolean;
  readonly electricCompressor: boolean;
  readonly ports: 1 | 2;
  readonly vehicleAgeYears?: number;
};
