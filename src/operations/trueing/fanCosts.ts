import { distance } from '../../geometry/point';
import { centreOvershoot } from '../../geometry/tolerance';
import { nameInSentence } from '../../pattern/nameInSentence';
import type { FanStep } from '../../pattern/recipe';
import type { FannedPiece, WorkedEdge } from '../worked';
import { bothUnits } from './bothUnits';

/** Sentences on what a fan costs the rest of the piece: what the centre rule did, what came apart, and which edges bend that were not `drawnOver` since. */
export function fanCosts(fanned: FannedPiece, step: FanStep, drawnOver: ReadonlySet<string>): string[] {
  return [...centreRuleCost(fanned, step), ...bentEdges(fanned, step, drawnOver), ...brokenLines(fanned)];
}

function centreRuleCost(fanned: FannedPiece, step: FanStep): string[] {
  if (step.fullness === null) return [];
  if (step.centreRule === 'slide') {
    const torn = gapLength(fanned.edges.find(({ id }) => id === step.side));
    return torn > centreOvershoot
      ? [
          `Sliding the strips to the centre line tears the side hinge open by ${bothUnits(torn)}; the side blend bridges it.`,
        ]
      : [];
  }
  if (step.centreRule === 'corner') {
    const lean = (Math.abs(centreStripTurn(fanned, step)) * 180) / Math.PI;
    return lean > 0.05
      ? [
          `The centre strip leans ${lean.toFixed(1)}° so that its hem corner meets the centre line; its grain leans with it.`,
        ]
      : [];
  }
  return [];
}

function gapLength(edge: WorkedEdge | undefined): number {
  return (edge?.segments ?? [])
    .filter(({ origin }) => origin.kind === 'gap')
    .reduce((sum, { segment }) => sum + distance(segment.start, segment.end), 0);
}

/** Turn of the strip that carries the hem corner of the centre line, radians. */
function centreStripTurn(fanned: FannedPiece, step: FanStep): number {
  const turns = (fanned.edges.find(({ id }) => id === step.centre)?.segments ?? []).map(({ origin }) =>
    origin.kind === 'own' ? (fanned.panels.find(({ index }) => index === origin.panel)?.move.angle ?? 0) : 0,
  );
  return Math.max(0, ...turns.map(Math.abs));
}

/** Edges that slashes run through to: they are hinged there and no longer one smooth line. */
function bentEdges({ edges, panels }: FannedPiece, step: FanStep, drawnOver: ReadonlySet<string>): string[] {
  if (step.fullness !== null) return [];
  return edges
    .filter(({ id }) => id !== step.hem && id !== step.centre && id !== step.side && !drawnOver.has(id))
    .filter(({ segments }) => {
      const turns = segments.map(({ origin }) =>
        origin.kind === 'own'
          ? panels.find(({ index }) => index === origin.panel % panels.length)?.move.angle
          : undefined,
      );
      return new Set(turns.filter((turn) => turn !== undefined)).size > 1;
    })
    .map(
      ({ name }) =>
        `The ${nameInSentence(name)} now bends at the slash lines. Draw a smooth curve along it on the print; its length is right.`,
    );
}

/** Lines that a cut took apart. */
export function brokenLines({ marks }: Pick<FannedPiece, 'marks'>): string[] {
  return marks.internalLines
    .filter(({ broken }) => broken)
    .map(({ name, paths }) => `The line “${name}” is crossed by a cut and came apart into ${paths.length} pieces.`);
}
