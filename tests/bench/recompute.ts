import { reportVersion } from '../../src/measure/report';
import { workPiece } from '../../src/operations/recipe';
import type { FanStep } from '../../src/pattern/recipe';
import { evenFan, frontAndBack, must, sampleTop, wholeRecipe, withSegments } from './pieces';
import { show, time } from './timing';

/**
 * Fan, true, allowance and report of front and back, 24 slash lines each, as the screen asks for it on a pointer move:
 * while openings change (the cuts stay where they are), and while the fullness line moves (everything is cut anew).
 */
export function recompute(): void {
  recomputeWhile('openings change', (fan) => fan);
  recomputeWhile('the fullness line moves', (fan, run) => movedDown(fan, (run % 97) * 0.01));
}

function movedDown(fan: FanStep, by: number): FanStep {
  return fan.fullness === null ? fan : { ...fan, fullness: { ...fan.fullness, downSide: fan.fullness.downSide + by } };
}

function recomputeWhile(what: string, change: (fan: FanStep, run: number) => FanStep): void {
  const garment = sampleTop();
  const fans = garment.blocks.map((piece) => ({ piece: piece.id, fan: evenFan(piece, 24) }));
  const timing = time(
    (run) => {
      const recipes = Object.fromEntries(fans.map(({ piece, fan }) => [piece, wholeRecipe(change(fan, run), run)]));
      const version = { id: 'bench', name: 'Bench', note: '', made: '2026-01-01T00:00:00Z', recipes };
      return must(reportVersion({ ...garment, versions: [version] }, 'bench'));
    },
    300,
    600,
  );
  console.log(
    `recompute front + back, 24 slash lines each, while ${what}: median ${show(timing.median)}, 95 % ${show(timing.p95)} (goal 2 ms)`,
  );
}

/** How the work of one piece grows with its slash lines and with its segments. */
export function growth(): void {
  const [front] = frontAndBack();
  console.log('growth of one piece:');
  for (const count of [3, 6, 12, 24, 48, 96]) {
    const step = evenFan(front, count, 120);
    const timing = time((run) => must(workPiece(front, wholeRecipe(step, run))), 100);
    console.log(
      `  ${String(count).padStart(4)} slash lines: ${show(timing.median)}, ${show(timing.median / count)} a line`,
    );
  }
  for (const count of [20, 60, 200, 600, 2000]) {
    const piece = withSegments(front, count);
    const real = piece.edges.reduce((sum, edge) => sum + edge.path.length, 0);
    const step = evenFan(piece, 6);
    const timing = time((run) => must(workPiece(piece, wholeRecipe(step, run))), 30);
    console.log(
      `  ${String(real).padStart(4)} segments: ${show(timing.median)}, ${show((1000 * timing.median) / real)} per 1,000`,
    );
  }
}
