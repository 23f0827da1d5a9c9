import { closingsOf } from '../pattern/closings';
import type { Garment } from '../pattern/garment';
import { findBlock, findEdge, findStep, findVersion, recipeOf } from '../pattern/lookUp';
import type { AppState, Selection } from './appState';

type Attention = Pick<AppState, 'activePiece' | 'activeVersion' | 'ghost' | 'selection'>;

/**
 * Where the maker's attention is after the document went from `before` to `after`. What is gone is let go. A version
 * that came onto the rack, or the only one whose recipes changed, is taken down, so that the change is seen.
 */
export function follow(attention: Attention, before: Garment | null, after: Garment): Attention {
  const touched = after.versions.filter((version) => {
    const present = before ? findVersion(before, version.id) : version;
    return present === undefined || present.recipes !== version.recipes;
  });
  const stayed = findVersion(after, attention.activeVersion)?.id ?? null;
  const changedHere = touched.some((version) => version.id === stayed);
  const activeVersion = touched.length === 1 && !changedHere ? touched[0]!.id : stayed;
  const activePiece =
    attention.activePiece !== null && findBlock(after, attention.activePiece)
      ? attention.activePiece
      : (after.blocks[0]?.id ?? null);
  const ghost = attention.ghost === 'block' || findVersion(after, attention.ghost) ? attention.ghost : null;
  const selection =
    attention.selection && stillThere(attention.selection, after, activeVersion) ? attention.selection : null;
  return { activePiece, activeVersion, ghost, selection };
}

/** Whether a selected thing is still there. */
function stillThere(selection: Selection, garment: Garment, version: string | null): boolean {
  const block = findBlock(garment, selection.piece);
  if (!block) return false;
  const recipe = recipeOf(garment, version, selection.piece);
  const fan = findStep(recipe, 'fan');
  switch (selection.kind) {
    case 'slash':
    case 'opening':
      return fan?.slashes.some((slash) => slash.id === selection.slash) ?? false;
    case 'dart-opening':
      return closingsOf(recipe).some(({ dart }) => dart === selection.dart);
    case 'fullness-line':
      return (fan?.fullness ?? null) !== null;
    case 'hem-handle':
    case 'hem-drop':
    case 'blend':
      return findStep(recipe, 'true') !== undefined;
    case 'edge':
      return findEdge(block, selection.edge) !== undefined;
    case 'notch':
      return block.notches.some((notch) => notch.id === selection.notch);
    case 'dart-end':
      return block.darts.some((dart) => dart.id === selection.dart);
    case 'drill-hole':
      return block.drillHoles.some((hole) => hole.id === selection.hole);
    case 'grain-end':
      return block.grainline !== null;
    case 'node':
      return (findEdge(block, selection.edge)?.path.length ?? 0) > selection.segment;
  }
}
