// What each stage remembers while it runs; the files data-*.ts beside it have them by the part of the job.
import type { Stage } from '../stages.ts';
import type { ChargeData } from './data-charge.ts';
import type { LeakCheckData, VerifyData } from './data-checks.ts';
import type { ClearHosesData, RecoverHosesData } from './data-hoses.ts';
import type { DrainOilData, RecoverData, RepairData, RestData, SettleData } from './data-recovery.ts';
import type { FillData, IdentifyData, PurgeAirData } from './data-tank.ts';
import type { AddOilData, EvacuateData, HoldData } from './data-vacuum.ts';

export type StageData =
  | IdentifyData
  | FillData
  | PurgeAirData
  | SettleData
  | RecoverData
  | RestData
  | DrainOilData
  | RepairData
  | EvacuateData
  | HoldData
  | AddOilData
  | LeakCheckData
  | ChargeData
  | VerifyData
  | ClearHosesData
  | RecoverHosesData;

export type DataOf<S extends Stage> = Extract<StageData, { readonly stage: S }>;
