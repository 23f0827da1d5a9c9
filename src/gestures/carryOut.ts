import type { AppStore } from '../store/appCommands';
import type { BringInStore } from '../store/bringIn';
import type { Effects } from './gesture';
import { sameSelection } from './handles';

export interface Stores {
  readonly app: AppStore;
  readonly bringIn: BringInStore;
  /** A shape of the draft was chosen to be the outline. */
  readonly chooseShape?: ((shape: string) => void) | undefined;
}

/** Does to the stores what a gesture asked for. Marks and cursor are the table's own affair. */
export function carryOut(effects: Effects, { app, bringIn, chooseShape }: Stores): void {
  const { actions, commands } = app;
  const { activePiece, selection, hint } = app.getState();
  if (effects.commit !== undefined) effects.commit(commands, 'commit');
  else if (effects.preview === null) actions.dropPreview();
  else if (effects.preview !== undefined) effects.preview(commands, 'preview');
  if (effects.camera !== undefined) actions.look(effects.camera);
  if (effects.pickPiece !== undefined && effects.pickPiece !== activePiece) actions.pickPiece(effects.pickPiece);
  if (effects.select !== undefined && !sameSelection(effects.select, selection)) actions.select(effects.select);
  if (effects.pen !== undefined) bringIn.actions.drawPen(effects.pen);
  if (effects.layDraft !== undefined) {
    bringIn.actions.layDraft(effects.layDraft);
    // The outline is closed; the next press should not begin another.
    actions.pickTool('hand');
  }
  if (effects.corners !== undefined) {
    const { what, before } = effects.cornersDone ?? {};
    bringIn.actions.setCorners(effects.corners, what, before);
  }
  if (effects.chooseShape !== undefined) chooseShape?.(effects.chooseShape);
  if (effects.measureScale !== undefined) {
    const { from, to } = effects.measureScale;
    bringIn.actions.measureScale({ x: from.across, y: from.down }, { x: to.across, y: to.down });
  }
  if (effects.pages !== undefined) bringIn.actions.layPages(effects.pages);
  if (effects.picture !== undefined) {
    const { picture } = effects;
    bringIn.actions.changePicture(() => picture);
  }
  if (effects.hint !== undefined && effects.hint !== hint) actions.setHint(effects.hint);
}
