// What a run has come to, and those that were kept to compare with.
import { useState } from 'preact/hooks';
import type { Snapshot } from '../../shown.ts';
import type { Score } from '../../shown-class.ts';
import { clock, inOne, shownWith } from '../format.ts';
import { Button, Panel, Readout } from '../parts.tsx';
import { unitsNow } from '../settings.ts';
import { T } from '../text.ts';

type Kept = { readonly name: string; readonly score: Score };
const kept: Kept[] = [];

export function ScorePanel({
  score,
  snapshot,
}: {
  readonly score: Score | undefined;
  readonly snapshot: Snapshot;
}) {
  const [, draw] = useState(0);
  const units = unitsNow(snapshot.barometerPa);
  const signed = (kg: number) => `${kg < 0 ? '' : '+'}${units.charge(kg)}`;
  if (score === undefined)
    return (
      <Panel title={T.score.title}>
        <p class="quiet">{T.score.hidden}</p>
      </Panel>
    );
  return (
    <Panel title={T.score.title}>
      <div class="figures small">
        <Readout label={T.score.chargeError} shown={shownWith(score.chargeErrorKg, signed)} />
        <Readout label={T.score.residual} shown={shownWith(score.residualKg, units.charge)} />
        <Readout label={T.score.lost} shown={shownWith(score.lostKg, units.charge)} />
        <Readout label={T.score.trips} shown={{ value: String(score.trips), unit: '' }} />
        <Readout label={T.score.refused} shown={{ value: String(score.refusedWishes), unit: '' }} />
        <Readout label={T.score.time} shown={{ value: clock(score.lastedMs), unit: '' }} />
      </div>
      <div class="buttons">
        <Button
          onPress={() => {
            kept.push({
              name: `${kept.length + 1} · ${score.by === undefined ? T.score.nobody : T.score.by[score.by]} · ${snapshot.name}`,
              score,
            });
            draw((count) => count + 1);
          }}
        >
          {T.score.copy}
        </Button>
      </div>
      {kept.length === 0 ? (
        <p class="quiet">{T.score.byHandOrJob}</p>
      ) : (
        // biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls must be reached by the keyboard
        <section class="scroll" tabIndex={0} aria-label={T.score.kept}>
          <table>
            <caption>{T.score.kept}</caption>
            <thead>
              <tr>
                <td />
                {[T.score.chargeError, T.score.residual, T.score.lost, T.score.trips, T.score.time].map(
                  (name) => (
                    <th key={name} scope="col">
                      {name}
                    </th>
                  ),
                )}
              </tr>
            </thead>
            <tbody>
              {kept.map(({ name, score: one }) => (
                <tr key={name}>
                  <th scope="row">{name}</th>
                  <td>{one.chargeErrorKg === undefined ? '–' : signed(one.chargeErrorKg)}</td>
                  <td>{one.residualKg === undefined ? '–' : inOne(units.charge(one.residualKg))}</td>
                  <td>{inOne(units.charge(one.lostKg))}</td>
                  <td>{one.trips}</td>
                  <td>{clock(one.lastedMs)}</td>
                </tr>
              ))}
            </tbody>
          </table>
        </section>
      )}
    </Panel>
  );
}
