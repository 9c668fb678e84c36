// The ticket: every word of it, begun with what the chosen one says.
import { useState } from 'preact/hooks';
import type { Ticket } from '../../../../controller/ticket.ts';
import { typedNumber } from '../format.ts';
import { Button, Choice, Field } from '../parts.tsx';
import { say } from '../store.ts';
import { JURISDICTION_NAMES, SERVICE_NAMES, T } from '../text.ts';
import { maySetUp, type ViewProps } from '../view.ts';

const FILL = 'fill-tank';
const GRAM_KG = 1e-3;
const ML_M3 = 1e-6;

const figure = (value: number | undefined): string =>
  value === undefined ? '' : String(Number(value.toPrecision(6)));

/** Figures as they are typed, ticks, and words. */
type Form = {
  readonly service: string;
  readonly refrigerant: string;
  readonly jurisdiction: string;
  readonly ports: string;
  readonly oilKind: string;
  readonly chargeG: string;
  readonly addMl: string;
  readonly dyeMl: string;
  readonly ageYears: string;
  readonly fillKg: string;
  readonly cylinderKg: string;
  readonly cylinderName: string;
  readonly engine: boolean;
  readonly warmUp: boolean;
  readonly electric: boolean;
  readonly dyeApproved: boolean;
  readonly opened: boolean;
  readonly repair: boolean;
  readonly repaired: boolean;
  readonly leakCheck: boolean;
};

const formOf = (ticket: Ticket): Form => ({
  service: ticket.service,
  refrigerant: ticket.refrigerant,
  jurisdiction: ticket.jurisdiction,
  ports: String(ticket.ports),
  oilKind: ticket.oil.kind,
  chargeG: figure(ticket.nominalChargeKg / GRAM_KG),
  addMl: figure(ticket.oil.addM3 / ML_M3),
  dyeMl: figure(ticket.dye.addM3 / ML_M3),
  ageYears: figure(ticket.vehicleAgeYears),
  fillKg: figure(ticket.fillKg),
  cylinderKg: figure(ticket.cylinderKg),
  cylinderName: ticket.cylinderName ?? '',
  engine: ticket.engine === 'can-run',
  warmUp: ticket.warmUp,
  electric: ticket.electricCompressor,
  dyeApproved: ticket.dye.approved,
  opened: ticket.opened,
  repair: ticket.repair,
  repaired: ticket.repaired,
  leakCheck: ticket.leakCheck === true,
});

/** Of the vehicle before nothing is left standing: whoever reads the next label writes what it says. */
const NEXT_VEHICLE = {
  ports: '2',
  oilKind: 'PAG',
  chargeG: '',
  addMl: '',
  dyeMl: '',
  ageYears: '',
  fillKg: '',
  cylinderKg: '',
  cylinderName: '',
  engine: false,
  warmUp: false,
  electric: false,
  dyeApproved: false,
  opened: false,
  repair: false,
  repaired: false,
  leakCheck: false,
} as const satisfies Partial<Form>;

/** What cannot be read as a number is sent as it was typed: the server says what is wrong with it. */
const sent = (text: string): number | string => typedNumber(text) ?? text;
const given = (key: string, text: string) => (text.trim() === '' ? {} : { [key]: sent(text) });

const supplyFrom = ({ cylinderKg, cylinderName }: Form) => ({
  ...given('cylinderKg', cylinderKg),
  ...(cylinderName.trim() === '' ? {} : { cylinderName: cylinderName.trim() }),
});

function ticketFrom(form: Form): { readonly [key: string]: unknown } {
  const filling = form.service === FILL;
  return {
    service: form.service,
    refrigerant: form.refrigerant,
    jurisdiction: form.jurisdiction,
    ports: Number(form.ports),
    opened: form.opened,
    repair: form.repair,
    repaired: form.repaired,
    electricCompressor: form.electric,
    engine: form.engine ? 'can-run' : 'cannot-run',
    warmUp: form.warmUp,
    oil: { kind: form.oilKind, ...given('addMl', form.addMl) },
    ...given('dyeMl', form.dyeMl),
    dyeApproved: form.dyeApproved,
    leakCheck: form.leakCheck,
    ...(filling ? {} : { nominalChargeG: sent(form.chargeG), ...given('vehicleAgeYears', form.ageYears) }),
    ...(filling ? { ...given('fillKg', form.fillKg), ...supplyFrom(form) } : {}),
  };
}

type Ticks = { [K in keyof Form]: Form[K] extends boolean ? K : never }[keyof Form];
type Words = Exclude<keyof Form, Ticks>;

const TICKS: readonly Ticks[] = [
  'engine',
  'warmUp',
  'electric',
  'opened',
  'repair',
  'repaired',
  'leakCheck',
  'dyeApproved',
];
const FIGURES: readonly Words[] = ['chargeG', 'ageYears', 'addMl', 'dyeMl'];
const TYPED_OF_FILLING: readonly Words[] = ['fillKg', 'cylinderKg', 'cylinderName'];
const same = (names: readonly string[]) => names.map((name) => [name, name] as const);

export function TicketForm({ known, welcome, snapshot }: ViewProps) {
  const { ticket, ticketWritten } = snapshot;
  const [form, setForm] = useState(() =>
    ticketWritten ? formOf(ticket) : { ...formOf(ticket), ...NEXT_VEHICLE },
  );
  const disabled = !maySetUp(known);
  const change = (part: Partial<Form>) => setForm({ ...form, ...part });
  const choice = (key: Words, options: readonly (readonly [string, string])[]) => (
    <Choice
      label={T.ticket[key]}
      value={form[key]}
      disabled={disabled}
      options={options}
      onChoose={(value) => change({ [key]: value })}
    />
  );
  const services = Object.entries(SERVICE_NAMES).filter(
    ([id]) => id !== FILL || ticket.service === FILL || !welcome.simulated,
  );
  return (
    <details class="ticket" open={!ticketWritten}>
      <summary>{T.ticket.title}</summary>
      <div class="fields">
        {choice('service', services)}
        {choice('refrigerant', same(welcome.refrigerants))}
        {(form.service === FILL ? TYPED_OF_FILLING : FIGURES).map((key) => (
          <Field key={key} label={T.ticket[key]}>
            <input
              inputMode={key === 'cylinderName' ? 'text' : 'decimal'}
              value={form[key]}
              disabled={disabled}
              onInput={({ currentTarget }) => change({ [key]: currentTarget.value })}
            />
          </Field>
        ))}
        {choice('oilKind', same(['PAG', 'POE', 'PVE']))}
        {choice('ports', same(['2', '1']))}
        {choice('jurisdiction', Object.entries(JURISDICTION_NAMES))}
      </div>
      <div class="ticks">
        {TICKS.map((key) => (
          <label key={key} class="tick">
            <input
              type="checkbox"
              checked={form[key]}
              disabled={disabled}
              onChange={({ currentTarget }) => change({ [key]: currentTarget.checked })}
            />
            <span>{T.ticket[key]}</span>
          </label>
        ))}
      </div>
      <div class="buttons">
        <Button disabled={disabled} onPress={() => say({ type: 'ticket', ticket: ticketFrom(form) })}>
          {T.ticket.apply}
        </Button>
      </div>
    </details>
  );
}
