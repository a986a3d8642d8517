import * as THREE from 'three';

/** What a hitter wears. Colours are CSS. */
export interface Kit {
  jersey: string;
  trim: string;
  number: string;
  pinstripes: boolean;
  sleeves: 'short' | 'long';
  undershirt: string;
  pants: string;
  belt: string;
  socks: string;
  shoes: string;
  helmet: string;
  skin: string;
  hair: string;
  ponytail: boolean;
  faceGuard: boolean;
  bat: string;
  grip: string;
  gloves: string;
  ball: string;
}

export type Materials = Record<
  | 'jersey'
  | 'sleeve'
  | 'cuff'
  | 'pants'
  | 'belt'
  | 'buckle'
  | 'socks'
  | 'shoes'
  | 'sole'
  | 'helmet'
  | 'skin'
  | 'hair'
  | 'white'
  | 'dark'
  | 'lips'
  | 'bat'
  | 'grip'
  | 'gloves'
  | 'guard',
  THREE.MeshStandardMaterial
>;

const plain = (color: string, roughness = 0.9, more: THREE.MeshStandardMaterialParameters = {}) =>
  new THREE.MeshStandardMaterial({ color, roughness, ...more });

// A loft's u runs right, front, left, back: the number belongs around u = 0.75.
function jerseyCloth(kit: Kit): THREE.CanvasTexture {
  const canvas = document.createElement('canvas');
  canvas.width = 1024;
  canvas.height = 512;
  const g = canvas.getContext('2d');
  if (!g) throw new Error('This browser has no 2D canvas.');
  g.fillStyle = kit.jersey;
  g.fillRect(0, 0, 1024, 512);
  if (kit.pinstripes) {
    g.fillStyle = kit.trim;
    for (let x = 8; x < 1024; x += 26) g.fillRect(x, 0, 2.5, 512);
  }
  g.fillStyle = kit.trim;
  g.fillRect(0, 0, 1024, 12);
  g.fillRect(254, 0, 4, 512);
  g.textAlign = 'center';
  g.textBaseline = 'middle';
  g.font = 'bold 200px "DejaVu Sans", sans-serif';
  g.fillText(kit.number, 768, 235);
  g.font = 'bold 78px "DejaVu Sans", sans-serif';
  g.fillText(kit.number, 332, 250);
  const texture = new THREE.CanvasTexture(canvas);
  texture.colorSpace = THREE.SRGBColorSpace;
  texture.anisotropy = 4;
  return texture;
}

export function materialsOf(kit: Kit): Materials {
  return {
    jersey: plain('#ffffff', 0.92, { map: jerseyCloth(kit) }),
    sleeve: plain(kit.jersey, 0.92),
    cuff: plain(kit.sleeves === 'long' ? kit.undershirt : kit.skin, kit.sleeves === 'long' ? 0.85 : 0.6),
    pants: plain(kit.pants, 0.95),
    belt: plain(kit.belt, 0.5),
    buckle: plain('#d8d8d4', 0.3, { metalness: 0.7 }),
    socks: plain(kit.socks, 0.95),
    shoes: plain(kit.shoes, 0.5),
    sole: plain('#ece9e0', 0.8),
    helmet: plain(kit.helmet, 0.22),
    skin: plain(kit.skin, 0.6),
    hair: plain(kit.hair, 0.7),
    white: plain('#f4f1ea', 0.4),
    dark: plain('#1b1512', 0.35),
    lips: plain('#8b4a42', 0.6),
    bat: plain(kit.bat, 0.35),
    grip: plain(kit.grip, 0.8),
    gloves: plain(kit.gloves, 0.75),
    guard: plain('#2a2c30', 0.4, { metalness: 0.3 }),
  };
}
