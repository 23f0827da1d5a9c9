/** The garments that ship with the app, drafted for it. */
export interface Sample {
  readonly file: string;
  readonly name: string;
  readonly about: string;
}

export const samples: readonly Sample[] = [
  {
    file: 'samples/sleeveless-top.json',
    name: 'Sleeveless top',
    about: 'Front and back, to be swung open below the armhole',
  },
  {
    file: 'samples/straight-skirt.json',
    name: 'Straight skirt',
    about: 'Front and back, to be flared from hip or waist',
  },
];
