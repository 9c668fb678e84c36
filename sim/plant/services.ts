// What the machine has beside its pipes: hands on the hoses, motor, pump oil, tank heater and purge, oil bottles and drain.
import type { Output } from '../../controller/signals.ts';
import type { ActiveFaults } from '../faults.ts';
import type { Network } from '../network/network.ts';
import type { Node } from '../network/node.ts';
import type { AnySpec } from '../spec.ts';
import { CompressorMotor } from './compressor.ts';
import { Enclosure } from './enclosure.ts';
import { Hoses } from './hoses.ts';
import { type Machine, setCoil } from './machine.ts';
import { LIQUIDS, type Liquid, OilService, type OilTargets } from './oil-service.ts';
import type { Paths } from './paths.ts';
import { PumpOil } from './pump.ts';
import { TankService } from './tank.ts';
import { type GasIn, wire } from './wiring.ts';

/** Outputs that move something outside the network's steps. */
const BESIDE: readonly Output[] = ['airPurgeValve', 'separatorDrainValve', 'oilValve', 'dyeValve'];

export class MachineServices {
  readonly hoses: Hoses;
  readonly motor: CompressorMotor;
  readonly pumpOil: PumpOil;
  readonly tank: TankService;
  readonly oil: OilService;
  readonly enclosure = new Enclosure();
  readonly #machine: Machine;
  readonly #paths: Paths;
  readonly #ports: { readonly high: Node; readonly low: Node };
  readonly #oneSided: boolean;
  readonly #seatLeak: number;
  readonly #faults: ActiveFaults;
  readonly #isOn: (output: Output) => boolean;
  #besideOpen = false;
  /** What the lines of drain, oil and dye carried when the paths were last set. */
  #carried = '';

  constructor(
    spec: AnySpec,
    machine: Machine,
    paths: Paths,
    ports: { high: Node; low: Node },
    network: Network,
    faults: ActiveFaults,
    isOn: (output: Output) => boolean,
  ) {
    const { build } = spec;
    this.#machine = machine;
    this.#paths = paths;
    this.#ports = ports;
    this.#oneSided = 'cylinder' in spec || spec.vehicle.ports === 1;
    this.#seatLeak = build.valveSeatLeak;
    this.#faults = faults;
    this.#isOn = isOn;
    this.hoses = new Hoses(this.#oneSided ? [machine.highHose] : [machine.highHose, machine.lowHose]);
    this.motor = new CompressorMotor(paths.compressor);
    this.pumpOil = new PumpOil(paths.vacuumPump, paths.restingPump, build);
    this.tank = new TankService(
      machine.tank,
      [paths.delivery, paths.chargeLift, paths.manifoldRelief, paths.highHoseRelief, paths.lowHoseRelief],
      paths.restingPump.b,
      network.context,
      spec.tank.restedS,
    );
    const hose = { boreM: build.hoseBoreM, lengthM: build.hoseLengthM };
    this.oil = new OilService(paths, hose, network.equilibrium.dissolved);
  }

  /** Sets every path; to be called after anything has changed. */
  rewire(nowMs: number, compressorCut: boolean): void {
    const isOn = this.#isOn;
    const faults = this.#faults;
    this.#besideOpen = BESIDE.some(isOn);
    const gas = this.#gasIn();
    this.#carried = keyOf(gas);
    wire(this.#paths, {
      isOn,
      highCouplerOpen: this.hoses.highOpen,
      lowCouplerOpen: this.hoses.lowOpen && !this.#oneSided,
      compressorTurns: this.motor.power(isOn('compressor') && !compressorCut, nowMs),
      seatLeak: this.#seatLeak,
      gas,
      faults,
    });
    setCoil(this.#machine, this.fanTurns());
    this.#lookAtPump(0);
  }

  /** After each stretch of time; answers whether the paths must be set anew. */
  passBeside(durationS: number): boolean {
    this.motor.look();
    if (!this.#besideOpen) return false;
    const { oil, tank } = this;
    if (this.#isOn('airPurgeValve')) tank.purge(durationS);
    if (this.#isOn('separatorDrainValve')) oil.drain(durationS);
    for (const liquid of LIQUIDS)
      if (this.#isOn(`${liquid}Valve`) && !this.#isEmpty(liquid))
        oil.draw(liquid, this.#targets(), durationS);
    return keyOf(this.#gasIn()) !== this.#carried;
  }

  everySecond(): void {
    setCoil(this.#machine, this.fanTurns());
    this.tank.look(1, this.#isOn('tankHeater'));
    this.enclosure.advance(this.#paths.cabinetLeak.passedRefrigerantKg, this.fanTurns(), 1);
    this.#lookAtPump(1);
  }

  save() {
    return {
      hoses: this.hoses.save(),
      motor: this.motor.save(),
      pumpOil: this.pumpOil.save(),
      tank: this.tank.save(),
      oil: this.oil.save(),
      enclosure: this.enclosure.save(),
      besideOpen: this.#besideOpen,
      carried: this.#carried,
    };
  }

  restore(saved: ReturnType<MachineServices['save']>): void {
    this.hoses.restore(saved.hoses);
    this.motor.restore(saved.motor);
    this.pumpOil.restore(saved.pumpOil);
    this.tank.restore(saved.tank);
    this.oil.restore(saved.oil);
    this.enclosure.restore(saved.enclosure);
    this.#besideOpen = saved.besideOpen;
    this.#carried = saved.carried;
  }

  #lookAtPump(periodS: number): void {
    this.pumpOil.look(periodS, this.#isOn('vacuumPump'), this.#faults.sizeOf('pump-oil-dirty') ?? 0);
  }

  fanTurns(): boolean {
    const faults = this.#faults;
    return !this.#isOn('fanStop') && !faults.has('fan-stopped') && !faults.has('power-lost');
  }

  #isEmpty(liquid: Liquid): boolean {
    return this.#faults.has(`${liquid}-bottle-empty`);
  }

  #gasIn(): GasIn {
    return {
      drain: this.oil.drainCarriesGas(this.#faults.has('drain-float-stuck')),
      oil: this.oil.lineCarriesGas('oil') || this.#isEmpty('oil'),
      dye: this.oil.lineCarriesGas('dye') || this.#isEmpty('dye'),
    };
  }

  /** Oil and dye go where a service valve leads, by preference to the high side. */
  #targets(): OilTargets {
    const { highSideValve, lowSideValve, highCoupler, lowCoupler } = this.#paths;
    const { highHose, lowHose } = this.#machine;
    if (highSideValve.opening === 1) {
      return { vehicle: highCoupler.opening === 1 ? this.#ports.high : undefined, hose: highHose };
    }
    if (lowSideValve.opening === 1) {
      return { vehicle: lowCoupler.opening === 1 ? this.#ports.low : undefined, hose: lowHose };
    }
    return { vehicle: undefined, hose: undefined };
  }
}

const keyOf = ({ drain, oil, dye }: GasIn): string => `${drain} ${oil} ${dye}`;
