import * as THREE from 'three';
import { BOX, boxCorners, PLATE } from '../plate';
import type { Vec3 } from '../vec';
import { seeded } from './random';

export type Setting = 'field' | 'yard';

interface Speckle {
  base: readonly [number, number, number];
  grain: number;
  blotches: number;
  seed: number;
  repeat: number;
  stripes?: boolean;
}

function speckled({ base, grain, blotches, seed, repeat, stripes }: Speckle): THREE.CanvasTexture {
  const size = 1024;
  const canvas = document.createElement('canvas');
  canvas.width = size;
  canvas.height = size;
  const g = canvas.getContext('2d');
  if (!g) throw new Error('This browser has no 2D canvas.');
  const random = seeded(seed);
  const image = g.createImageData(size, size);
  for (let i = 0; i < size * size; i++) {
    const n = (random() + random() - 1) * grain;
    base.forEach((channel, k) => (image.data[4 * i + k] = channel + n * (k === 2 ? 0.7 : 1)));
    image.data[4 * i + 3] = 255;
  }
  g.putImageData(image, 0, 0);
  for (let i = 0; i < blotches; i++) {
    const light = random() < 0.5;
    g.fillStyle = light
      ? `rgba(255,236,200,${0.015 + 0.03 * random()})`
      : `rgba(30,20,10,${0.015 + 0.04 * random()})`;
    g.beginPath();
    g.ellipse(random() * size, random() * size, 6 + random() * 70, 5 + random() * 34, random() * 3, 0, 7);
    g.fill();
  }
  if (stripes) {
    g.fillStyle = 'rgba(240,255,190,.10)';
    g.fillRect(0, 0, size / 2, size);
  }
  const texture = new THREE.CanvasTexture(canvas);
  texture.wrapS = THREE.RepeatWrapping;
  texture.wrapT = THREE.RepeatWrapping;
  texture.repeat.set(repeat, repeat);
  texture.anisotropy = 8;
  texture.colorSpace = THREE.SRGBColorSpace;
  return texture;
}

function flat(
  geometry: THREE.BufferGeometry,
  material: THREE.Material,
  height: number,
  at: readonly [number, number] = [0, 0],
): THREE.Mesh {
  const mesh = new THREE.Mesh(geometry, material);
  mesh.position.set(at[0], at[1], height);
  mesh.receiveShadow = true;
  return mesh;
}

const matte = (color: string) => new THREE.MeshLambertMaterial({ color });

function plateAndBoxes(scene: THREE.Scene, withBoxes: boolean): void {
  const outline = new THREE.Shape(PLATE.map(([x, y]) => new THREE.Vector2(x, y)));
  const rim = new THREE.Mesh(new THREE.ShapeGeometry(outline), matte('#26221e'));
  rim.scale.set(1.045, 1.07, 1);
  rim.position.set(-0.0095, 0, 0.002);
  scene.add(rim);
  scene.add(
    flat(
      new THREE.ShapeGeometry(outline),
      new THREE.MeshStandardMaterial({ color: '#f3f1ea', roughness: 0.7 }),
      0.004,
    ),
  );
  if (!withBoxes) return;
  const chalk = new THREE.MeshStandardMaterial({
    color: '#ece7da',
    roughness: 1,
    transparent: true,
    opacity: 0.92,
  });
  for (const side of [1, -1] as const) {
    const corners = boxCorners(side);
    corners.forEach((a, i) => {
      const b = corners[(i + 1) % 4] ?? a;
      const long = Math.hypot(b[0] - a[0], b[1] - a[1]);
      const line = flat(new THREE.PlaneGeometry(long + BOX.line, BOX.line), chalk, 0.0025, [
        (a[0] + b[0]) / 2,
        (a[1] + b[1]) / 2,
      ]);
      line.rotation.z = Math.atan2(b[1] - a[1], b[0] - a[0]);
      scene.add(line);
    });
  }
}

function trees(scene: THREE.Scene, random: () => number, radius: number, tones: readonly string[]): void {
  const leaves = tones.map(matte);
  const crown = new THREE.IcosahedronGeometry(1, 1);
  const perTone = 420;
  const place = new THREE.Object3D();
  for (const leaf of leaves) {
    const crowns = new THREE.InstancedMesh(crown, leaf, perTone);
    for (let i = 0; i < perTone; i++) {
      const tree = Math.floor(random() * 90);
      const angle = (tree / 90) * Math.PI * 2 + Math.sin(tree * 7.3) * 0.05;
      const far = radius + 5 + Math.sin(tree * 12.9) * 5 + (random() - 0.5) * 2.6;
      const tall = 3.4 + Math.sin(tree * 4.7) * 1.5;
      const up = random();
      const spread = 1.7 * (1.15 - up);
      const size = 0.35 + random() * 0.6;
      place.position.set(
        Math.cos(angle) * far + (random() - 0.5) * spread,
        Math.sin(angle) * far + (random() - 0.5) * spread,
        0.7 + tall * up,
      );
      place.scale.set(size, size, size * 0.85);
      place.rotation.set(random() * 3, random() * 3, 0);
      place.updateMatrix();
      crowns.setMatrixAt(i, place.matrix);
    }
    scene.add(crowns);
  }
}

// A ring of padded panels with a rail on top, or of boards.
function fence(scene: THREE.Scene, setting: Setting, random: () => number): void {
  const field = setting === 'field';
  const radius = field ? 19 : 11.5;
  const panels = field ? 44 : 300;
  const width = (2 * Math.PI * radius) / panels;
  const high = field ? 1.5 : 1.75;
  const tones = field ? ['#22405e', '#21405c', '#24436a'] : ['#9c7f5f', '#947656', '#a5896a', '#8d7153'];
  const faces = tones.map(matte);
  const rail = matte('#d9b23c');
  for (let i = 0; i < panels; i++) {
    const angle = (i / panels) * Math.PI * 2;
    const tall = high + (field ? 0 : random() * 0.03);
    const panel = new THREE.Mesh(
      new THREE.BoxGeometry(0.08, width * (field ? 0.992 : 0.95), tall),
      faces[i % faces.length],
    );
    panel.position.set(Math.cos(angle) * radius, Math.sin(angle) * radius, tall / 2);
    panel.rotation.z = angle;
    scene.add(panel);
    if (field) {
      const top = new THREE.Mesh(new THREE.BoxGeometry(0.12, width, 0.07), rail);
      top.position.set(Math.cos(angle) * radius, Math.sin(angle) * radius, tall + 0.03);
      top.rotation.z = angle;
      scene.add(top);
    }
  }
}

function sky(scene: THREE.Scene): void {
  const canvas = document.createElement('canvas');
  canvas.width = 8;
  canvas.height = 512;
  const g = canvas.getContext('2d');
  if (!g) throw new Error('This browser has no 2D canvas.');
  const fade = g.createLinearGradient(0, 0, 0, 512);
  fade.addColorStop(0, '#6d9fd0');
  fade.addColorStop(0.42, '#b9d3e6');
  fade.addColorStop(0.5, '#f1e6d0');
  fade.addColorStop(1, '#e6dcc6');
  g.fillStyle = fade;
  g.fillRect(0, 0, 8, 512);
  const texture = new THREE.CanvasTexture(canvas);
  texture.colorSpace = THREE.SRGBColorSpace;
  const dome = new THREE.Mesh(
    new THREE.SphereGeometry(90, 32, 24),
    new THREE.MeshBasicMaterial({ map: texture, side: THREE.BackSide, fog: false }),
  );
  dome.rotation.x = Math.PI / 2;
  scene.add(dome);
}

/** Where the sun stands, as a direction. */
export const SUN: Vec3 = [4.2, -3.4, 6.2];

/** Late sun and sky. Casts shadows over the few metres around the plate. */
export function addLights(scene: THREE.Scene): void {
  const dome = new THREE.HemisphereLight('#e6eef7', '#a08660', 1.9);
  dome.position.set(0, 0, 1);
  scene.add(dome);
  const sun = new THREE.DirectionalLight('#ffe9c6', 2.9);
  sun.position.set(SUN[0], SUN[1], SUN[2]);
  sun.castShadow = true;
  sun.shadow.mapSize.set(2048, 2048);
  Object.assign(sun.shadow.camera, { left: -3.4, right: 3.4, top: 3.4, bottom: -3.4, near: 1, far: 20 });
  sun.shadow.bias = -0.0006;
  sun.shadow.normalBias = 0.012;
  sun.shadow.radius = 4;
  scene.add(sun, sun.target);
}

/** Everything that stands still behind the hitter: ground, plate, lines, fence, trees, sky. */
export function staticScene(setting: Setting): THREE.Scene {
  const scene = new THREE.Scene();
  const random = seeded(setting === 'field' ? 11 : 23);
  scene.fog = new THREE.Fog('#dfe0d4', 16, 62);
  addLights(scene);
  sky(scene);
  const grass = speckled({
    base: [104, 134, 62],
    grain: 46,
    blotches: 260,
    seed: 3,
    repeat: 26,
    stripes: setting === 'field',
  });
  scene.add(
    flat(
      new THREE.PlaneGeometry(130, 130),
      new THREE.MeshStandardMaterial({ map: grass, roughness: 1 }),
      -0.006,
    ),
  );
  if (setting === 'field') {
    const dirt = speckled({ base: [176, 126, 86], grain: 40, blotches: 420, seed: 5, repeat: 2 });
    scene.add(
      flat(
        new THREE.CircleGeometry(3.96, 72),
        new THREE.MeshStandardMaterial({ map: dirt, roughness: 1 }),
        -0.003,
        [0.216, 0],
      ),
    );
  } else {
    const worn = speckled({ base: [158, 133, 92], grain: 44, blotches: 420, seed: 8, repeat: 1.4 });
    const patch = flat(
      new THREE.CircleGeometry(1, 60),
      new THREE.MeshStandardMaterial({ map: worn, roughness: 1, transparent: true, opacity: 0.8 }),
      -0.003,
      [0.25, 0],
    );
    patch.scale.set(1.5, 1.75, 1);
    scene.add(patch);
  }
  plateAndBoxes(scene, setting === 'field');
  fence(scene, setting, random);
  trees(scene, random, setting === 'field' ? 24 : 15, ['#4d6b38', '#5a7a40', '#3f5c34', '#6b8446']);
  return scene;
}

/** The tee under a ball: rubber base, post and cup. */
export function teeUnder(ball: Vec3, ballRadius: number, castsShadow: boolean): THREE.Group {
  const group = new THREE.Group();
  const rubber = new THREE.MeshStandardMaterial({ color: '#2b2a2c', roughness: 0.85 });
  const cup = new THREE.MeshStandardMaterial({ color: '#3b3a3d', roughness: 0.8 });
  const top = ball[2] - ballRadius * 0.9;
  const part = (geometry: THREE.BufferGeometry, material: THREE.Material, height: number) => {
    geometry.rotateX(Math.PI / 2);
    const mesh = new THREE.Mesh(geometry, material);
    mesh.position.set(ball[0], ball[1], height);
    mesh.castShadow = castsShadow;
    mesh.receiveShadow = true;
    group.add(mesh);
  };
  part(new THREE.CylinderGeometry(0.15, 0.18, 0.035, 36), rubber, 0.0175);
  part(new THREE.CylinderGeometry(0.021, 0.026, top * 0.55, 20), rubber, 0.03 + top * 0.275);
  part(new THREE.CylinderGeometry(0.016, 0.016, top - 0.1, 20), cup, (top - 0.1) / 2 + 0.02);
  part(new THREE.CylinderGeometry(0.036, 0.016, 0.09, 24), cup, top - 0.045);
  return group;
}
