import type { Tool } from '../../store/appState';
import { useActions } from '../storeContext';

interface ToolButtonProps {
  readonly tool: Tool;
  readonly now: Tool;
  readonly label: string;
}

/** Takes a tool in hand; pressing it again lays it down. */
export function ToolButton({ tool, now, label }: ToolButtonProps) {
  const { pickTool } = useActions();
  const held = tool === now;
  return (
    <button type="button" className="button" aria-pressed={held} onClick={() => pickTool(held ? 'hand' : tool)}>
      {label}
    </button>
  );
}
