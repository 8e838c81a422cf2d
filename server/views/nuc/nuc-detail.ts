/** One nuc, whole: gates, plan, log, signals. */
import { chanceInWords } from '../../words/chance.ts';
import type { Gate, GateName } from '../../introduction/acts/gate.ts';
import type { GateDto, NucDetail } from '../../contract/nucs.ts';
import { iso } from '../../farm/wire.ts';
import { afterAcceptance } from '../../introduction/after-acceptance.ts';
import { nextStartingPoint } from '../../introduction/carry-over.ts';
import { nucPopulation } from '../../introduction/population.ts';
import type { IntroductionState } from '../../introduction/state.ts';
import { beesNow, driftMeasured, leftTogether } from '../../watch/bees-now.ts';
import type { ParentAround } from '../../watch/parent-around.ts';
import type { NucAnalysis } from '../../watch/nuc-analysis.ts';
import { figureWords } from './figure-words.ts';
import { logLines } from './log-lines.ts';
import { nucSummary, type SummaryParts } from './nuc-summary.ts';
import { stepToWire } from '../plan/plan-steps.ts';
import { waitingOf } from '../plan/waiting-nuc.ts';
import { rounded } from '../rounded.ts';
import { parentNotes } from './parent-scale.ts';
import { signalNotes } from './signal-notes.ts';
import { bees as number, grams, type Say } from '../../words/phrase.ts';
import { doneAlready } from './done-already.ts';

const questions: Readonly<Record<GateName, string>> = {
  'cut-cells': 'May I cut the cells?',
  'hang-cage': 'May I hang the cage?',
  'open-candy': 'May I open the candy end?',
  'look-for-queen': 'May I look for the queen?',
};

const underMesh: Readonly<Partial<Record<GateName, string>>> = {
  'hang-cage': 'May I press the mesh over her?',
  'open-candy': 'May I lift the mesh?',
};

/** `parent`: the colony that it was split from, as its scale shows it around the move. */
export function nucDetail(
  parts: SummaryParts,
  parent: ParentAround | undefined,
  say: Say,
  nowMs: number,
): NucDetail {
  const { analysis } = parts;
  const { state, gates, plan, signals, setup } = analysis;
  return {
    ...nucSummary(parts, say, nowMs),
    gates: gates.map((gate) => ({
      ...gateToWire(gate, setup?.method === 'push-in-cage', say),
      ...doneAlready(gate, state),
    })),
    plan: plan.map((step) => stepToWire(analysis, step, nowMs)),
    log: logLines(analysis, say),
    contradictions: state?.contradictions.map(({ text }) => text) ?? [],
    signals: signalNotes(signals, say).concat(parent ? parentNotes(parent, say) : []),
    population: populationToWire(analysis, say),
    afterAcceptance: state ? afterToWire(state) : [],
    setup: setup && {
      startingPoint: setup.startingPoint,
      method: setup.method,
      ...(parts.queen === undefined ? {} : { queen: parts.queen }),
      ...(parts.nextQueen === undefined ? {} : { nextQueen: parts.nextQueen }),
      ended: state?.outcome != null,
      next: state ? nextStartingPoint(state) : setup.startingPoint,
    },
    waiting: waitingOf(analysis),
  };
}

function populationToWire({ state, signals }: NucAnalysis, say: Say): NucDetail['population'] {
  const found = state && nucPopulation(state, driftMeasured(signals));
  if (!found) return null;
  const bees = beesNow(state, signals);
  const left = leftTogether(signals);
  return {
    days: found.projection.days.map(({ day, bees, low, high }) => ({ day, bees, low, high })),
    text: left
      ? `${found.text} The bees that left together (about ${say(grams(left.lossG))}) are not taken off.`
      : found.text,
    short: bees.ok ? `about ${say(number(bees.value))} bees` : `not known: ${say(bees.why)}`,
    release: {
      day: found.releaseDay,
      framesOfBees: rounded(found.framesAtRelease, 1),
      done: state.queen.releasedAtMs !== null,
      ...(found.ifToday ? { ifToday: true } : {}),
    },
    troughDay: found.projection.trough.day,
  };
}

function afterToWire(state: IntroductionState): NucDetail['afterAcceptance'] {
  return afterAcceptance(state).milestones.map(({ id, atMs, text }) => ({ id, at: iso(atMs), text }));
}

function gateToWire(gate: Gate, mesh: boolean, say: Say): GateDto {
  const { overridden, oneMoreLook } = gate;
  const reasons = gate.reasons.map(({ ok, text, figure }) => ({
    ok,
    text: say(text),
    ...(figure
      ? {
          figure: {
            name: figure.name,
            value: figureWords(figure.value, figure.unit, say),
            source: figure.source,
          },
        }
      : {}),
  }));
  const look = oneMoreLook ? [{ ok: 'unknown' as const, text: lookText(oneMoreLook) }] : [];
  return {
    gate: gate.gate,
    question: (mesh ? underMesh[gate.gate] : undefined) ?? questions[gate.gate],
    answer: gate.answer,
    headline: gate.headline,
    reasons: [...reasons, ...look],
    ...(gate.untilMs === undefined ? {} : { until: iso(gate.untilMs) }),
    ...(overridden
      ? {
          overridden: {
            reason: overridden.reason,
            at: iso(overridden.atMs),
            ...(overridden.by === undefined ? {} : { by: overridden.by }),
          },
        }
      : {}),
  };
}

const lookText = ({
  chanceNow,
  chanceIfNothingFound,
  chanceOfFinding,
}: NonNullable<Gate['oneMoreLook']>): string =>
  `One more complete look: if it finds nothing, the chance of a standing cell falls from ${chanceInWords(chanceNow)} to ${chanceInWords(chanceIfNothingFound)}. It finds one in ${chanceInWords(chanceOfFinding)} of such nucs.`;
