import { type KeyboardEvent, type ReactNode, useEffect, useId, useLayoutEffect, useRef, useState } from 'react';
import { createPortal } from 'react-dom';
import './menu.css';

export interface MenuItem {
  readonly label: string;
  readonly onPick: () => void;
  readonly disabled?: boolean;
  /** A line above the item parts it from those before. */
  readonly parted?: boolean;
}

interface MenuProps {
  readonly label: string;
  readonly className: string;
  readonly children: ReactNode;
  readonly items: readonly MenuItem[];
}

/** A button that opens a short list of things to do; arrow keys, Home, End, Escape and a press elsewhere work. */
export function Menu({ label, className, children, items }: MenuProps) {
  const id = useId();
  const [open, setOpen] = useState(false);
  const [place, setPlace] = useState({ left: 0, top: 0 });
  const button = useRef<HTMLButtonElement>(null);
  const list = useRef<HTMLDivElement>(null);

  useLayoutEffect(() => {
    if (!open || button.current === null || list.current === null) return;
    const anchor = button.current.getBoundingClientRect();
    const size = list.current.getBoundingClientRect();
    const below = anchor.bottom + 6;
    const fitsBelow = below + size.height <= window.innerHeight - 8;
    setPlace({
      left: Math.max(8, Math.min(anchor.left, window.innerWidth - size.width - 8)),
      top: fitsBelow ? below : Math.max(8, anchor.top - size.height - 6),
    });
    list.current.querySelector<HTMLButtonElement>('[role=menuitem]:not(:disabled)')?.focus();
  }, [open]);

  useEffect(() => {
    if (!open) return;
    const away = (event: PointerEvent) => {
      const target = event.target as Node;
      if (!list.current?.contains(target) && !button.current?.contains(target)) setOpen(false);
    };
    document.addEventListener('pointerdown', away, true);
    return () => document.removeEventListener('pointerdown', away, true);
  }, [open]);

  const close = () => {
    setOpen(false);
    button.current?.focus();
  };

  const onKeyDown = (event: KeyboardEvent) => {
    const entries = [...(list.current?.querySelectorAll<HTMLButtonElement>('[role=menuitem]:not(:disabled)') ?? [])];
    const at = entries.indexOf(document.activeElement as HTMLButtonElement);
    const target =
      event.key === 'ArrowDown'
        ? entries[(at + 1) % entries.length]
        : event.key === 'ArrowUp'
          ? entries[(at - 1 + entries.length) % entries.length]
          : event.key === 'Home'
            ? entries[0]
            : event.key === 'End'
              ? entries.at(-1)
              : undefined;
    if (target !== undefined) {
      event.preventDefault();
      target.focus();
    } else if (event.key === 'Escape') {
      event.stopPropagation();
      close();
    } else if (event.key === 'Tab') setOpen(false);
  };

  return (
    <>
      <button
        ref={button}
        type="button"
        className={className}
        aria-label={label}
        aria-haspopup="menu"
        aria-expanded={open}
        aria-controls={open ? id : undefined}
        onClick={() => setOpen(!open)}
      >
        {children}
      </button>
      {open &&
        createPortal(
          <div
            ref={list}
            id={id}
            role="menu"
            tabIndex={-1}
            aria-label={label}
            className="menu"
            style={{ left: place.left, top: place.top }}
            onKeyDown={onKeyDown}
          >
            {items.map((item) => (
              <button
                key={item.label}
                type="button"
                role="menuitem"
                tabIndex={-1}
                className={item.parted ? 'menu-item menu-item-parted' : 'menu-item'}
                disabled={item.disabled ?? false}
                onClick={() => {
                  close();
                  item.onPick();
                }}
              >
                {item.label}
              </button>
            ))}
          </div>,
          document.body,
        )}
    </>
  );
}
