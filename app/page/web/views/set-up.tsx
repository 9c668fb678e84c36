// Before a job: which scenario, which ticket, what stands against it, and the start.

import { inOne } from '../format.ts';
import { Button, Choice, Panel, ToldList } from '../parts.tsx';
import { unitsNow } from '../settings.ts';
import { say } from '../store.ts';
import { SERVICE_NAMES, T } from '../text.ts';
import { toldHere } from '../told.ts';
import { maySetUp, type ViewProps } from '../view.ts';
import { TicketForm } from './ticket.tsx';

export function SetUp(props: ViewProps) {
  const { known, welcome, snapshot } = props;
  const { blockers, ticket, ticketWritten, phase, outcome, told } = snapshot;
  const units = unitsNow(snapshot.barometerPa);
  return (
    <Panel title={T.job.setUp}>
      {phase === 'broken' ? <p class="banner warn">{outcome}</p> : null}
      {welcome.simulated ? (
        <div class="fields">
          <Choice
            label={T.job.choose}
            value={snapshot.chosen}
            disabled={!maySetUp(known)}
            options={welcome.choices.map(({ id, name }) => [id, name])}
            onChoose={(id) => say({ type: 'choose', id })}
          />
        </div>
      ) : null}
      <p class="ticket-line">
        <b>{SERVICE_NAMES[ticket.service] ?? ticket.service}</b>
        <span>{ticket.refrigerant}</span>
        {ticket.nominalChargeKg === 0 || !ticketWritten ? null : (
          <span>{inOne(units.charge(ticket.nominalChargeKg))}</span>
        )}
      </p>
      <TicketForm key={JSON.stringify([snapshot.chosen, ticket, ticketWritten])} {...props} />
      <ToldList told={told.map((text) => toldHere(units, text))} />
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
                {toldHere(units, text)}
                <p class="remedy">→ {toldHere(units, remedy)}</p>
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
