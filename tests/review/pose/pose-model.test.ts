import { execFileSync } from 'node:child_process';
import {
  cpSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { unzipSync } from 'fflate';
import { afterEach, describe, expect, it } from 'vitest';

const root = path.resolve(import.meta.dirname, '../../..');
const FILES = [
  ...[
    'pose/pose_solution_packed_assets.data',
    'pose/pose_landmark_full.tflite',
    'tasks-vision/vision_bundle.mjs',
  ],
  ...[
    'tasks-vision/wasm/vision_wasm_module_internal.js',
    'tasks-vision/wasm/vision_wasm_module_internal.wasm',
  ],
];

const folders: string[] = [];
afterEach(() => {
  for (const folder of folders.splice(0)) rmSync(folder, { recursive: true, force: true });
});

/** A project with the script, its libraries and these files of the packages. */
function buildProject(files: readonly string[]): string {
  const folder = mkdtempSync(path.join(tmpdir(), 'pose-model-'));
  folders.push(folder);
  for (const file of ['scripts/pose-model.mjs', 'lib/review/pose/worker.ts'])
    cpSync(path.join(root, file), path.join(folder, file));
  mkdirSync(path.join(folder, 'node_modules'));
  for (const name of ['flatbuffers', 'fflate', 'typescript'])
    symlinkSync(path.join(root, 'node_modules', name), path.join(folder, 'node_modules', name));
  for (const file of files)
    cpSync(
      path.join(root, 'node_modules/@mediapipe', file),
      path.join(folder, 'node_modules/@mediapipe', file),
    );
  return folder;
}

const make = (folder: string) =>
  execFileSync(process.execPath, [path.join(folder, 'scripts/pose-model.mjs')], { encoding: 'utf8' });
const offerOf = (folder: string): unknown =>
  JSON.parse(readFileSync(path.join(folder, 'public/pose/offer.json'), 'utf8'));

describe('the bundle of the pose model', () => {
  it('is made of the packages, the same each time, with the weights unchanged in it', () => {
    const folder = buildProject(FILES);
    expect(make(folder)).toBe('');
    const bytes = () => readFileSync(path.join(folder, 'public/pose/pose.task'));
    const first = bytes();
    const whole = readdirSync(path.join(folder, 'public/pose')).filter((name) => name !== 'offer.json');
    const sizes = whole.map((name) => readFileSync(path.join(folder, 'public/pose', name)).length);
    expect(offerOf(folder)).toEqual({ isOffered: true, bytes: sizes.reduce((sum, size) => sum + size, 0) });
    const models = unzipSync(first);
    const weights = readFileSync(path.join(root, 'node_modules/@mediapipe/pose/pose_landmark_full.tflite'));
    // TensorFlow Lite's schema.fbs: the identifier of a model stands at byte 4.
    for (const model of Object.values(models)) expect(Buffer.from(model.slice(4, 8)).toString()).toBe('TFL3');
    const landmarks = models['pose_landmarks_detector.tflite'];
    expect(landmarks && Buffer.from(landmarks).includes(weights.subarray(64, 4096))).toBe(true);
    make(folder);
    expect(bytes().equals(first)).toBe(true);
  });

  it('is not offered when the package is not there, and a sentence says so', () => {
    const folder = buildProject(FILES.slice(0, 2));
    expect(make(folder)).toMatch(/vision_bundle\.mjs is not installed: points are set by hand/);
    expect(offerOf(folder)).toEqual({ isOffered: false, bytes: 0 });
  });

  it('is not made of a package whose bytes have changed', () => {
    const folder = buildProject(FILES);
    const file = path.join(folder, 'node_modules/@mediapipe/tasks-vision/vision_bundle.mjs');
    writeFileSync(file, `${readFileSync(file, 'utf8')}\n`);
    expect(make(folder)).toMatch(/vision_bundle\.mjs is not the file that this was made for/);
    expect(offerOf(folder)).toEqual({ isOffered: false, bytes: 0 });
    expect(readdirSync(path.join(folder, 'public/pose'))).toEqual(['offer.json']);
  });
});
