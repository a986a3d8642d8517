import type { Kit } from './scene/kit';

const COMMON = {
  undershirt: '#2a2230',
  ponytail: false,
  faceGuard: false,
  pinstripes: false,
  sleeves: 'short',
} as const;

export const ADULT_KIT: Kit = {
  ...COMMON,
  jersey: '#6d2c46',
  trim: '#f0d9a8',
  number: '24',
  pants: '#4a4d55',
  belt: '#1c1b1e',
  socks: '#6d2c46',
  shoes: '#1e1d20',
  helmet: '#4d1d31',
  skin: '#b57f5c',
  hair: '#24160f',
  ponytail: true,
  bat: '#3d5a6b',
  grip: '#e8e4da',
  gloves: '#26232a',
  ball: '#dfe64a',
};

export const FIFTEEN_KIT: Kit = {
  ...COMMON,
  jersey: '#efe9da',
  trim: '#a8482c',
  number: '15',
  pinstripes: true,
  sleeves: 'long',
  undershirt: '#a8482c',
  pants: '#e4dfd2',
  belt: '#3a241b',
  socks: '#a8482c',
  shoes: '#2b2522',
  helmet: '#8f3a22',
  skin: '#9a6a49',
  hair: '#17100c',
  bat: '#c69a5c',
  grip: '#3b2a20',
  gloves: '#e9e3d6',
  ball: '#f3f0e8',
};

export const ELEVEN_KIT: Kit = {
  ...COMMON,
  jersey: '#2f7d74',
  trim: '#f6f1e2',
  number: '7',
  pants: '#c9c7c0',
  belt: '#23343a',
  socks: '#1e3f4c',
  shoes: '#34383d',
  helmet: '#1e3f4c',
  skin: '#d9a883',
  hair: '#7a4f2b',
  faceGuard: true,
  bat: '#d0662f',
  grip: '#222222',
  gloves: '#2a2e33',
  ball: '#f3f0e8',
};
