import type { WishLine, WortPlan } from '@ladlework/planner';

/** Stages of the wort as brewers call them. */
export const STAGE_NAME: Readonly<Record<WortPlan['stages'][number]['stage'], string>> = {
  'kettle-full': 'Kettle full',
  'cast-out': 'End of the boil',
  'knock-out': 'Out of the kettle',
  tank: 'In the tank',
};

export const ACCOUNT_NAME: Readonly<Record<WortPlan['grist']['account'][number]['stage'], string>> =
  {
    laboratory: 'in the malt, by the laboratory',
    'kettle-full': 'in the full kettle',
    'cast-out': 'at the end of the boil',
    tank: 'in the tank',
  };

export const WISH_NAME: Readonly<Record<WishLine['what'], string>> = {
  'tank-litres': 'wort in the tank',
  extract: 'strength in the tank',
  colour: 'colour',
  bitterness: 'bitterness',
  attenuation: 'limit of attenuation',
  'mash-ph': 'mash pH',
  liquor: 'ion of the liquor furthest off',
};

export const ION_NAME: Readonly<Record<string, string>> = {
  calciumMgL: 'calcium',
  magnesiumMgL: 'magnesium',
  sodiumMgL: 'sodium',
  potassiumMgL: 'potassium',
  chlorideMgL: 'chloride',
  sulphateMgL: 'sulphate',
  nitrateMgL: 'nitrate',
  alkalinityMgLCaCO3: 'alkalinity, as CaCO₃',
};
