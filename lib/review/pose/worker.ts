// Runs alone, beside the files that scripts/pose-model.mjs lays next to it: only types and that package are imported.
import { PoseLandmarker } from '@mediapipe/tasks-vision';
import type { PoseAnswer, PoseFault, PoseQuestion } from './pose-protocol';

const say = (answer: PoseAnswer) => postMessage(answer);

const fail = (fault: PoseFault, error: unknown) => say({ is: 'failed', fault, detail: String(error) });

class Missing extends Error {}

// The engine tells how it is doing as errors and warnings. What goes wrong comes as an exception.
const quiet = () => {};
Object.assign(console, { log: quiet, info: quiet, warn: quiet, error: quiet });

let loaded = 0;

async function load(name: string): Promise<Uint8Array<ArrayBuffer>> {
  const response = await fetch(new URL(name, import.meta.url));
  if (!response.ok || !response.body) throw new Missing(`${name}: ${response.status}`);
  const parts: Uint8Array<ArrayBuffer>[] = [];
  const reader = response.body.getReader();
  for (;;) {
    const { done, value } = await reader.read();
    if (done) break;
    parts.push(value);
    loaded += value.length;
    say({ is: 'loading', bytes: loaded });
  }
  return new Uint8Array(await new Blob(parts).arrayBuffer());
}

// The smallest module with a vector instruction (i8x16.splat, i8x16.popcnt), as WebAssembly's SIMD proposal has it.
const VECTORS = Uint8Array.of(
  ...[0, 97, 115, 109, 1, 0, 0, 0, 1, 5, 1, 96, 0, 1, 123, 3, 2, 1, 0],
  ...[10, 10, 1, 8, 0, 65, 0, 253, 15, 253, 98, 11],
);

async function open(): Promise<PoseLandmarker> {
  const [model, engine] = await Promise.all([load('pose.task'), load('vision_wasm.wasm')]);
  const address = URL.createObjectURL(new Blob([engine], { type: 'application/wasm' }));
  try {
    return await PoseLandmarker.createFromOptions(
      { wasmLoaderPath: new URL('vision_wasm.mjs', import.meta.url).href, wasmBinaryPath: address },
      {
        baseOptions: { modelAssetBuffer: model, delegate: 'CPU' },
        canvas: new OffscreenCanvas(1, 1),
        runningMode: 'IMAGE',
        numPoses: 1,
      },
    );
  } finally {
    URL.revokeObjectURL(address);
  }
}

const faultOf = (error: unknown): PoseFault => {
  if (error instanceof Missing) return 'model-missing';
  // A fetch that found no way.
  if (error instanceof TypeError && /fetch|load|network/i.test(error.message)) return 'model-missing';
  return error instanceof RangeError || /memory|allocat/i.test(String(error)) ? 'out-of-memory' : 'broken';
};

function answer(landmarker: PoseLandmarker, { id, picture }: PoseQuestion): void {
  try {
    const result = landmarker.detect(picture);
    const found = result.landmarks[0] ?? null;
    say({
      is: 'pose',
      id,
      points: found && found.map(({ x, y, visibility }) => ({ x, y, visibility })),
    });
    result.close?.();
  } catch (error) {
    fail(faultOf(error), error);
  } finally {
    picture.close();
  }
}

async function begin(): Promise<void> {
  if (typeof OffscreenCanvas === 'undefined' || !WebAssembly.validate(VECTORS)) {
    return fail('too-old', 'no vector instructions, or no canvas off the screen');
  }
  try {
    const landmarker = await open();
    addEventListener('message', (event: MessageEvent<PoseQuestion>) => answer(landmarker, event.data));
    say({ is: 'ready' });
  } catch (error) {
    fail(faultOf(error), error);
  }
}

void begin();
