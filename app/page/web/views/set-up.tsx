// Before a job: which scenario, which ticket, what stands against it, and the start.
import { useState } from 'preact/hooks';
import { Button, Choice, Field, Panel } from '../parts.tsx';
import { say } from '../store.ts';
import { SERVICE_NAMES, T } from '../text.ts';
import { maySetUp, type ViewProps } from '../view.ts';

const OILS = ['PAG', 'POE', 'PVE'] as const;
const FILL = 'fill-tank';

function Ticket({ known, welcome, snapshot }: ViewProps) {
  const { ticket } = snapshot;
  const [service, setService] = useState(ticket.service);
  const [refrigerant, setRefrigerant] = useState(ticket.refrigerant);
  const [charge, setCharge] = useState(String(Math.round(ticket.nominalChargeKg * 1000)));
  const [ports, setPorts] = useState('2');
  const [oil, setOil] = useState<string>('PAG');
  const [addMl, setAddMl] = useState('0');
  const [ticks, setTicks] = useState({ engine: false, electric: false, opened: false });
  const disabled = !maySetUp(known);
  const apply = () =>
    say({
      type: 'ticket',
      ticket: {
        service,
        refrigerant,
        ...(service === FILL ? {} : { nominalChargeG: Number(charge) }),
        ports: Number(ports),
        opened: ticks.opened,
        electricCompressor: ticks.electric,
        engine: ticks.engine ? 'can-run' : 'cannot-run',
        oil: { kind: oil, addMl: Number(addMl) },
      },
    });
  const tick = (key: keyof typeof ticks, label: string) => (
    <label class="tick">
      <input
        type="checkbox"
        checked={ticks[key]}
        disabled={disabled}
        onChange={({ currentTarget }) => setTicks({ ...ticks, [key]: currentTarget.checked })}
      />
      <span>{label}</span>
    </label>
  );
  return (
    <details class="ticket">
      <summary>{T.job.ticket}</summary>
      <div class="fields">
        <Choice
          label={T.job.service}
          value={service}
          disabled={disabled}
          options={Object.entries(SERVICE_NAMES).filter(([id]) => id !== FILL || ticket.service === FILL)}
          onChoose={setService}
        />
        <Choice
          label={T.job.refrigerant}
          value={refrigerant}
          disabled={disabled}
          options={welcome.refrigerants.map((name) => [name, name])}
          onChoose={setRefrigerant}
        />
        <Field label={T.job.nominalCharge}>
          <input
            inputMode="decimal"
            value={charge}
            disabled={disabled}
            onInput={({ currentTarget }) => setCharge(currentTarget.value)}
          />
        </Field>
        <Choice
          label={T.job.ports}
          value={ports}
          disabled={disabled}
          options={[
            ['2', '2'],
            ['1', '1'],
          ]}
          onChoose={setPorts}
        />
        <Choice
          label={T.job.oilKind}
          value={oil}
          disabled={disabled}
          options={OILS.map((kind) => [kind as string, kind])}
          onChoose={setOil}
        />
        <Field label={T.job.addOil}>
          <input
            inputMode="decimal"
            value={addMl}
            disabled={disabled}
            onInput={({ currentTarget }) => setAddMl(currentTarget.value)}
          />
        </Field>
      </div>
      <div class="ticks">
        {tick('engine', T.job.engine)}
        {tick('electric', T.job.electric)}
        {tick('opened', T.job.opened)}
      </div>
      <div class="buttons">
        <Button disabled={disabled} onPress={apply}>
          {T.job.apply}
        </Button>
      </div>
    </details>
  );
}

export function SetUp(props: ViewProps) {
  const { known, welcome, snapshot } = props;
  const { blockers, ticket, phase, outcome } = snapshot;
  return (
    <Panel title={T.job.setUp}>
      {phase === 'broken' ? <p class="banner warn">{outcome}</p> : null}
      <div class="fields">
        <Choice
          label={T.job.choose}
          value={snapshot.chosen}
          disabled={!maySetUp(known)}
          options={welcome.choices.map(({ id, name }) => [id, name])}
          onChoose={(id) => say({ type: 'choose', id })}
        />
      </div>
      <p class="ticket-line">
        <b>{SERVICE_NAMES[ticket.service] ?? ticket.service}</b>
        <span>{ticket.refrigerant}</span>
        {ticket.nominalChargeKg === 0 ? null : <span>{Math.round(ticket.nominalChargeKg * 1000)} g</span>}
      </p>
      <Ticket
        key={`${snapshot.chosen} ${ticket.service} ${ticket.refrigerant} ${ticket.nominalChargeKg}`}
        {...props}
      />
      {blockers.length === 0 ? (
        <p class="all-clear">
          <span aria-hidden="true">✓</span> {T.job.nothingAgainst}
        </p>
      ) : (
        <div class="blockers" role="alert">
          <p>
            <b>{T.job.blocked(blockers.length)}</b>
          </p>
          <ul>
            {blockers.map(({ code, text, remedy }) => (
              <li key={code}>
                {text}
                <p class="remedy">→ {remedy}</p>
              </li>
            ))}
          </ul>
        </div>
      )}
      <div class="buttons">
        <Button
          kind="main"
          disabled={!known.hasControl || blockers.length > 0 || phase !== 'ready'}
          onPress={() => say({ type: 'start' })}
        >
          {T.job.start}
        </Button>
      </div>
      {known.hasControl ? null : <p class="quiet">{T.job.needControl}</p>}
    </Panel>
  );
}
