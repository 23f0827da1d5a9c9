import { useEffect, useState } from 'react';
import { MoonSign, SunSign } from '../controls/icons';
import { applyLight, chosenLight, keepLight, type Light, systemLight } from '../theme';

/** Light or dark table: the system's until the maker chooses. */
export function LightSwitch() {
  const [light, setLight] = useState<Light>(() => chosenLight() ?? systemLight());

  useEffect(() => {
    const system = matchMedia('(prefers-color-scheme: dark)');
    const follow = () => {
      if (chosenLight() !== null) return;
      applyLight(systemLight());
      setLight(systemLight());
    };
    system.addEventListener('change', follow);
    return () => system.removeEventListener('change', follow);
  }, []);

  const other: Light = light === 'dark' ? 'light' : 'dark';
  return (
    <button
      type="button"
      className="icon-button"
      aria-label={`Switch to the ${other} table`}
      title={`Switch to the ${other} table`}
      onClick={() => {
        keepLight(other);
        setLight(other);
      }}
    >
      {light === 'dark' ? <SunSign /> : <MoonSign />}
    </button>
  );
}
