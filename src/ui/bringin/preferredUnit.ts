/** Inches where the device speaks American English, else cm; the switch is one press away. */
export function preferredUnit(): 'cm' | 'in' {
  return navigator.language === 'en-US' ? 'in' : 'cm';
}
