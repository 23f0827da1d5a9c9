/** The two ways out of a sheet with something to fill in. */
export function SheetFoot({ keep, onClose }: { readonly keep: string; readonly onClose: () => void }) {
  return (
    <div className="dialog-foot">
      <button type="button" className="button" onClick={onClose}>
        Leave it
      </button>
      <button type="submit" className="button button-main">
        {keep}
      </button>
    </div>
  );
}
