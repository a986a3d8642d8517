// Makes `public/pose`: what a browser loads when a coach asks for suggestions of points. The weights come from a package
// whose own program is not used; the tasks want them with a note about their pictures, in a bundle.
import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { zipSync } from 'fflate';
import { Builder, ByteBuffer } from 'flatbuffers';
import ts from 'typescript';

const root = path.resolve(import.meta.dirname, '..');
const packages = path.join(root, 'node_modules/@mediapipe');
const out = path.join(root, 'public/pose');

/** The files of the two packages by what they are, with their SHA-256: another package is noticed, not used. */
const FILES = {
  detector: [
    'pose/pose_solution_packed_assets.data',
    'a63c614bef30d35947f13be361820b1e4e3bec9cfeebf4d11216a18373108e85',
  ],
  landmarks: [
    'pose/pose_landmark_full.tflite',
    'e9a5c5cb17f736fafd4c2ec1da3b3d331d6edbe8a0d32395855aeb2cdfd64b9f',
  ],
  tasks: [
    'tasks-vision/vision_bundle.mjs',
    '55d7ab624fbb70dcc5adc4ae6d7ea9cfcb569139d3dbfbf2b1deafcb966bc0fe',
  ],
  loader: [
    'tasks-vision/wasm/vision_wasm_module_internal.js',
    '1f1d6215324a1fe62f6742d49a3db911170987ca18ad8c1b75f1a1c82acf2b44',
  ],
  engine: [
    'tasks-vision/wasm/vision_wasm_module_internal.wasm',
    '617b8e0248dbd27e9d7ece4218004eae4cefb499196d1bb4fa0e3fef21708756',
  ],
};

const sha256 = (bytes) => createHash('sha256').update(bytes).digest('hex');

/** The bytes of every file; or one sentence that says why there are none. */
function readPackages() {
  const found = {};
  for (const [what, [file, digest]] of Object.entries(FILES)) {
    const full = path.join(packages, file);
    if (!existsSync(full)) return `@mediapipe/${file} is not installed`;
    found[what] = readFileSync(full);
    if (sha256(found[what]) !== digest) return `@mediapipe/${file} is not the file that this was made for`;
  }
  return found;
}

/**
 * TensorFlow Lite Metadata (metadata_schema.fbs of tflite-support): one input, an RGB picture whose values are
 * (value - mean) / deviation.
 */
function pictureNote(name, mean, deviation) {
  const b = new Builder(1024);
  const vector = (offsets) => {
    b.startVector(4, offsets.length, 4);
    for (const offset of offsets.reverse()) b.addOffset(offset);
    return b.endVector();
  };
  const floats = (value) => {
    b.startVector(4, 1, 4);
    b.addFloat32(value);
    return b.endVector();
  };
  const table = (fieldCount, fill) => {
    b.startObject(fieldCount);
    fill();
    return b.endObject();
  };
  const [means, deviations] = [floats(mean), floats(deviation)];
  const normalization = table(2, () => {
    b.addFieldOffset(0, means, 0);
    b.addFieldOffset(1, deviations, 0);
  });
  const processUnit = table(2, () => {
    b.addFieldInt8(0, 1, 0); // options are NormalizationOptions
    b.addFieldOffset(1, normalization, 0);
  });
  const picture = table(2, () => b.addFieldInt8(0, 1, 0)); // colour space RGB
  const content = table(3, () => {
    b.addFieldInt8(0, 2, 0); // properties are ImageProperties
    b.addFieldOffset(1, picture, 0);
  });
  const [units, tensorName] = [vector([processUnit]), b.createString('image')];
  const tensor = table(7, () => {
    b.addFieldOffset(0, tensorName, 0);
    b.addFieldOffset(3, content, 0);
    b.addFieldOffset(4, units, 0);
  });
  const tensors = vector([tensor]);
  const graph = table(4, () => b.addFieldOffset(2, tensors, 0)); // its input tensors
  const [graphs, modelName, version] = [vector([graph]), b.createString(name), b.createString('1.0.0')];
  const model = table(8, () => {
    b.addFieldOffset(0, modelName, 0);
    b.addFieldOffset(3, graphs, 0);
    b.addFieldOffset(7, version, 0);
  });
  b.finish(model, 'M001');
  return b.asUint8Array();
}

// Fields of `Model` in TensorFlow Lite's schema.fbs.
const MODEL = { version: 0, buffers: 4, metadata: 6, fieldCount: 8 };
// Weights are read in place, in vectors of this alignment at most.
const ALIGNMENT = 64;

/** The same model with a note in it: a new root before the old bytes, which stay as they are. */
function withNote(model, note) {
  const old = new ByteBuffer(model);
  const rootAt = old.readInt32(0);
  const fieldAt = (field) => {
    const offset = old.__offset(rootAt, 4 + 2 * field);
    return offset && rootAt + offset;
  };
  const elements = (field) => {
    const at = fieldAt(field) && old.__indirect(fieldAt(field));
    if (!at) return [];
    return Array.from({ length: old.readInt32(at) }, (_, i) => old.__indirect(at + 4 + 4 * i));
  };
  const b = new Builder(model.length + 4096);
  b.prep(ALIGNMENT, model.length);
  const base = b.createByteVector(model) - 4; // what a builder calls an offset is counted from the end
  const kept = (at) => base - at;

  b.prep(16, note.length);
  const noteBytes = b.createByteVector(note);
  b.startObject(1);
  b.addFieldOffset(0, noteBytes, 0);
  const noteBuffer = b.endObject();
  const noteName = b.createString('TFLITE_METADATA');
  const buffers = elements(MODEL.buffers);
  b.startObject(2);
  b.addFieldOffset(0, noteName, 0);
  b.addFieldInt32(1, buffers.length, 0);
  const noteEntry = b.endObject();
  const listOf = (places, added) => {
    b.startVector(4, places.length + 1, 4);
    b.addOffset(added);
    for (const place of [...places].reverse()) b.addOffset(kept(place));
    return b.endVector();
  };
  const lists = {
    [MODEL.buffers]: listOf(buffers, noteBuffer),
    [MODEL.metadata]: listOf(elements(MODEL.metadata), noteEntry),
  };
  b.startObject(MODEL.fieldCount);
  b.addFieldInt32(MODEL.version, old.readInt32(fieldAt(MODEL.version)), 0);
  for (let field = MODEL.version + 1; field < MODEL.fieldCount; field += 1) {
    if (lists[field]) b.addFieldOffset(field, lists[field], 0);
    else if (fieldAt(field)) b.addFieldOffset(field, kept(old.__indirect(fieldAt(field))), 0);
  }
  b.finish(b.endObject(), 'TFL3');
  return b.asUint8Array();
}

/** The worker as a browser module: its types taken off, the package found beside it. */
function workerModule() {
  const source = readFileSync(path.join(root, 'lib/review/pose/worker.ts'), 'utf8');
  const { ES2022 } = ts.ScriptTarget;
  const compilerOptions = { target: ES2022, module: ts.ModuleKind.ES2022, verbatimModuleSyntax: true };
  const { outputText } = ts.transpileModule(source, { compilerOptions });
  return outputText.replace("'@mediapipe/tasks-vision'", "'./vision_bundle.mjs'");
}

function make() {
  rmSync(out, { recursive: true, force: true });
  mkdirSync(out, { recursive: true });
  const found = readPackages();
  if (typeof found === 'string') {
    writeFileSync(path.join(out, 'offer.json'), JSON.stringify({ isOffered: false, bytes: 0 }));
    console.log(`${found}: points are set by hand, no suggestions are offered.`);
    return;
  }
  // Stored, not packed: the tasks read the models in place.
  const model = zipSync(
    {
      'pose_detector.tflite': withNote(found.detector, pictureNote('pose_detector', 127.5, 127.5)),
      'pose_landmarks_detector.tflite': withNote(found.landmarks, pictureNote('pose_landmarks', 0, 255)),
    },
    { level: 0, mtime: new Date(2023, 0, 1) },
  );
  const files = {
    'pose.task': model,
    'vision_bundle.mjs': found.tasks,
    'vision_wasm.mjs': found.loader,
    'vision_wasm.wasm': found.engine,
    'worker.mjs': Buffer.from(workerModule()),
  };
  for (const [name, bytes] of Object.entries(files)) writeFileSync(path.join(out, name), bytes);
  const bytes = Object.values(files).reduce((sum, file) => sum + file.length, 0);
  writeFileSync(path.join(out, 'offer.json'), JSON.stringify({ isOffered: true, bytes }));
}

make();
