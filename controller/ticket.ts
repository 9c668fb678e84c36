// What is asked for: the vehicle, its refrigerant and charge, and the service.

export const SERVICES = ['whole', 'recover', 'evacuate-and-charge', 'leak-check', 'fill-tank'] as const;
export type Service = (typeof SERVICES)[number];

/** Polyalkylene glycol, polyol ester, polyvinyl ether. */
export const OIL_KINDS = ['PAG', 'POE', 'PVE'] as const;
export type OilKind = (typeof OIL_KINDS)[number];

/** What is drawn out of bottles into an evacuated vehicle, in this order. */
export const LIQUIDS = ['oil', 'dye'] as const;
export type Liquid = (typeof LIQUIDS)[number];

/** Whether someone may be asked to start the engine. Nobody is asked unless the ticket says that it can run. */
export const ENGINES = ['can-run', 'cannot-run'] as const;
export type Engine = (typeof ENGINES)[number];

/** Whose rules apply: the United States', the European Union's, or none that the machine knows. */
export const JURISDICTIONS = ['us', 'eu', 'none'] as const;
export type Jurisdiction = (typeof JURISDICTIONS)[number];

/** An engine that drives its own compressor warms what it drives; what is charged anyway has no recovery to be warmed for. */
export const mayWarm = ({ engine, electricCompressor, service }: Ticket): boolean =>
  engine === 'can-run' && !electricCompressor && (service === 'whole' || service === 'recover');

/** What carries a dye may conduct: into an electric compressor goes only what its maker allows there (common practice). */
export const dyeFits = ({ electricCompressor, dye }: Pick<Ticket, 'electricCompressor' | 'dye'>): boolean =>
  !electricCompressor || dye.approved;

export type Ticket = {
  readonly service: Service;
  readonly refrigerant: string;
  /** Charge on the vehicle's label; 0 where there is no vehicle. */
  readonly nominalChargeKg: number;
  /** The system was, or will be, open before the evacuation. */
  readonly opened: boolean;
  /** Between recovery and evacuation the vehicle is opened and mended. */
  readonly repair: boolean;
  /** Somebody stands for it that what leaked has been mended before this job. */
  readonly repaired: boolean;
  readonly jurisdiction: Jurisdiction;
  readonly electricCompressor: boolean;
  readonly engine: Engine;
  /** Before the recovery the engine warms the vehicle. */
  readonly warmUp: boolean;
  readonly ports: 1 | 2;
  readonly oil: {
    readonly kind: OilKind;
    /** Allowance for changed components, on top of what is drained. */
    readonly addM3: number;
  };
  /** Fluorescent dye, which shows leaks under ultraviolet light. */
  readonly dye: {
    readonly addM3: number;
    /** The maker of the electric compressor allows this dye in it. */
    readonly approved: boolean;
  };
  /** Search with a partial charge before the whole one goes in. Always done with a flammable refrigerant. */
  readonly leakCheck?: boolean;
  readonly vehicleAgeYears?: number;
  /** To be filled into the tank; left out, up to its limit. */
  readonly fillKg?: number;
  /** Net content of the supply cylinder before, by its label or by another scale. */
  readonly cylinderKg?: number;
  /** Of the supply cylinder in the records. */
  readonly cylinderName?: string;
};
