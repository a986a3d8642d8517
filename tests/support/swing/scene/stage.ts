import * as THREE from 'three';
import { pixelsPerMetre, project, type Camera } from '../camera';
import { DEMO_CLIPS, timeOfFrame, type DemoClip } from '../demo-clips';
import type { Pose } from '../pose';
import { swingOf, type Swing } from '../swing';
import type { Vec2, Vec3 } from '../vec';
import { addLights, staticScene, SUN, teeUnder } from './field';
import { figureOf } from './figure';

/** Seconds the shutter stands open, as of a phone in sunlight, and how many instants of a fast movement are averaged over it. */
const SHUTTER = 1 / 700;
const INSTANTS = 2;
const SHARPER = 1.5;

// One for all clips: its shaders take long to build.
let shared: THREE.WebGLRenderer | undefined;

function rendererOnce(): THREE.WebGLRenderer {
  if (shared) return shared;
  shared = new THREE.WebGLRenderer({ antialias: true, alpha: true, preserveDrawingBuffer: true });
  shared.setPixelRatio(1);
  shared.setClearColor(0x000000, 0);
  shared.shadowMap.enabled = true;
  shared.shadowMap.type = THREE.PCFShadowMap;
  shared.toneMapping = THREE.ACESFilmicToneMapping;
  shared.toneMappingExposure = 0.92;
  return shared;
}

class Stage {
  private readonly renderer = rendererOnce();
  private readonly scene = new THREE.Scene();
  private readonly figure: ReturnType<typeof figureOf>;
  private readonly ball: THREE.Mesh;
  private readonly view: THREE.PerspectiveCamera;
  private readonly swing: Swing;
  private readonly backdrop: HTMLCanvasElement;
  private readonly picture: CanvasRenderingContext2D;

  constructor(private readonly clip: DemoClip) {
    const { width, height } = clip.camera;
    this.view = viewOf(clip.camera);
    this.swing = swingOf(clip.hitter);
    this.backdrop = this.drawBackdrop();
    this.renderer.setSize(width, height);
    this.renderer.setScissorTest(true);

    this.figure = figureOf(clip.hitter.body, clip.kit);
    addLights(this.scene);
    // The tee and its shadow are part of the backdrop; here it only hides what passes behind it.
    this.scene.add(this.figure.group, teeUnder(this.swing.ballAt, clip.hitter.ballRadius, false));
    this.ball = new THREE.Mesh(
      new THREE.SphereGeometry(clip.hitter.ballRadius, 24, 18),
      new THREE.MeshStandardMaterial({ color: clip.kit.ball, roughness: 0.7 }),
    );
    this.ball.castShadow = true;
    this.scene.add(this.ball);
    const ground = new THREE.Mesh(
      new THREE.PlaneGeometry(7, 7),
      new THREE.ShadowMaterial({ color: '#1c1206', opacity: 0.5 }),
    );
    ground.receiveShadow = true;
    this.scene.add(ground);
    this.picture = contextOf(width, height);
  }

  // Drawn once and finer than the frames, with what is far away a little out of focus.
  private drawBackdrop(): HTMLCanvasElement {
    const { width, height } = this.clip.camera;
    this.renderer.setScissorTest(false);
    this.renderer.setSize(width * SHARPER, height * SHARPER);
    this.renderer.setViewport(0, 0, width * SHARPER, height * SHARPER);
    const scene = staticScene(this.clip.setting);
    scene.add(teeUnder(this.swing.ballAt, this.clip.hitter.ballRadius, true));
    this.renderer.render(scene, this.view);
    const sharp = contextOf(width, height);
    sharp.imageSmoothingQuality = 'high';
    sharp.drawImage(this.renderer.domElement, 0, 0, width, height);
    const soft = contextOf(width, height);
    soft.filter = `blur(${Math.max(width, height) / 380}px)`;
    soft.drawImage(sharp.canvas, 0, 0);
    soft.filter = 'none';
    const horizon = farGround(this.view);
    soft.globalCompositeOperation = 'destination-in';
    const fade = soft.createLinearGradient(0, 0, 0, height);
    fade.addColorStop(0, 'rgba(0,0,0,1)');
    fade.addColorStop(Math.min(1, horizon), 'rgba(0,0,0,1)');
    fade.addColorStop(Math.min(1, horizon + 0.2), 'rgba(0,0,0,0)');
    soft.fillStyle = fade;
    soft.fillRect(0, 0, width, height);
    sharp.drawImage(soft.canvas, 0, 0);
    return sharp.canvas;
  }

  // Draws one instant over the backdrop and adds it to the sum. Reading pixels is several times cheaper here than
  // drawing one canvas into another. They come with their rows from the bottom and their colours multiplied by alpha.
  private addInstant(time: number, { x, y, width, height }: Part, sum: Float32Array): Pose {
    const pose = this.swing.poseAt(time);
    this.figure.draw(pose);
    this.ball.visible = time <= 0;
    this.ball.position.set(pose.ball[0], pose.ball[1], pose.ball[2]);
    const whole = this.clip.camera;
    this.view.setViewOffset(whole.width, whole.height, x, y, width, height);
    const bottom = whole.height - y - height;
    this.renderer.setViewport(x, bottom, width, height);
    this.renderer.setScissor(x, bottom, width, height);
    this.renderer.render(this.scene, this.view);
    const gl = this.renderer.getContext();
    const drawn = new Uint8Array(width * height * 4);
    gl.readPixels(x, bottom, width, height, gl.RGBA, gl.UNSIGNED_BYTE, drawn);
    const behind = this.picture.getImageData(x, y, width, height).data;
    for (let row = 0; row < height; row++) {
      let from = (height - 1 - row) * width * 4;
      let to = row * width * 4;
      for (let column = 0; column < width; column++, from += 4, to += 4) {
        const through = (255 - (drawn[from + 3] ?? 0)) / 255;
        for (let k = 0; k < 3; k++) {
          sum[to + k] = (sum[to + k] ?? 0) + (drawn[from + k] ?? 0) + (behind[to + k] ?? 0) * through;
        }
      }
    }
    return pose;
  }

  // A ball in flight leaves the part that is drawn in space, and hides behind nothing: a streak from where it was when
  // the shutter opened to where it was when it closed.
  private drawFlyingBall(from: Vec3, to: Vec3): void {
    const { camera, hitter, kit } = this.clip;
    const perMetre = pixelsPerMetre(camera, to);
    if (perMetre <= 0 || perMetre > camera.width) return;
    const r = hitter.ballRadius * perMetre;
    const [x0, y0] = project(camera, from);
    const [x1, y1] = project(camera, to);
    const g = this.picture;
    g.lineCap = 'round';
    for (const [colour, width, lift] of [
      ['#8d8873', 2 * r, 0],
      [kit.ball, 1.7 * r, r * 0.14],
      ['#fffdf6', 0.7 * r, r * 0.42],
    ] as const) {
      g.strokeStyle = colour;
      g.lineWidth = width;
      g.beginPath();
      g.moveTo(x0, y0 - lift);
      g.lineTo(x1 + 0.01, y1 - lift);
      g.stroke();
    }
  }

  /** Draws a frame with the blur of its shutter and gives its picture. */
  draw(frame: number): HTMLCanvasElement {
    const time = timeOfFrame(this.clip, frame);
    const { lag, finish } = this.swing.timing;
    const isFast = time > lag - 0.03 && time < finish * 0.4 && this.clip.captureRate < 200;
    const instants = isFast ? INSTANTS : 1;
    const part = movingPart(this.clip.camera, this.swing, time);
    const sum = new Float32Array(part.width * part.height * 4);
    this.picture.drawImage(this.backdrop, 0, 0);
    const flights: Vec3[] = [];
    for (let i = 0; i < instants; i++) {
      const instant = time + (instants > 1 ? (i / (instants - 1) - 0.5) * SHUTTER : 0);
      const pose = this.addInstant(instant, part, sum);
      if (instant > 0) flights.push(pose.ball);
    }
    const image = this.picture.createImageData(part.width, part.height);
    for (let i = 0; i < sum.length; i++) image.data[i] = i % 4 === 3 ? 255 : (sum[i] ?? 0) / instants;
    this.picture.putImageData(image, part.x, part.y);
    const [opened, closed] = [flights[0], flights.at(-1)];
    if (opened && closed) this.drawFlyingBall(opened, closed);
    return this.picture.canvas;
  }
}

interface Part {
  x: number;
  y: number;
  width: number;
  height: number;
}

// The rectangle that holds the hitter, the bat, the ball on its tee and their shadows: drawing more only costs time.
function movingPart(camera: Camera, swing: Swing, time: number): Part {
  const spots: Vec2[] = [];
  const pose = swing.poseAt(time);
  for (const spot of [...Object.values(pose.joints), swing.ballAt]) {
    const fall = spot[2] / SUN[2];
    spots.push(project(camera, spot), project(camera, [spot[0] - SUN[0] * fall, spot[1] - SUN[1] * fall, 0]));
  }
  const margin = Math.max(camera.width, camera.height) * 0.035;
  const between = (values: readonly number[], end: number) =>
    [
      Math.max(0, Math.floor(Math.min(...values) - margin)),
      Math.min(end, Math.ceil(Math.max(...values) + margin)),
    ] as const;
  const [left, right] = between(
    spots.map(([x]) => x),
    camera.width,
  );
  const [top, bottom] = between(
    spots.map(([, y]) => y),
    camera.height,
  );
  return { x: left, y: top, width: right - left, height: bottom - top };
}

function contextOf(width: number, height: number): CanvasRenderingContext2D {
  const canvas = document.createElement('canvas');
  canvas.width = width;
  canvas.height = height;
  // On the processor: every frame is read back, and there is no graphics card to read it from.
  const context = canvas.getContext('2d', { willReadFrequently: true });
  if (!context) throw new Error('This browser has no 2D canvas.');
  return context;
}

function viewOf(camera: Camera): THREE.PerspectiveCamera {
  const across = (camera.fieldOfView * Math.PI) / 180;
  const upright = 2 * Math.atan((Math.tan(across / 2) * camera.height) / camera.width);
  const view = new THREE.PerspectiveCamera(
    (upright * 180) / Math.PI,
    camera.width / camera.height,
    0.05,
    200,
  );
  view.up.set(0, 0, 1);
  view.position.set(camera.position[0], camera.position[1], camera.position[2]);
  view.lookAt(camera.target[0], camera.target[1], camera.target[2]);
  view.updateMatrixWorld();
  return view;
}

// Where ground nine metres away lies, as a share of the picture's height from its top.
function farGround(view: THREE.PerspectiveCamera): number {
  const ahead = new THREE.Vector3();
  view.getWorldDirection(ahead);
  ahead.setZ(0).normalize().multiplyScalar(9).add(view.position).setZ(0);
  return (1 - ahead.project(view).y) / 2;
}

let stage: Stage | undefined;

Object.assign(window, {
  openStage(name: string): void {
    const clip = DEMO_CLIPS.find((c) => c.name === name);
    if (!clip) throw new Error(`There is no clip called ${name}.`);
    stage = new Stage(clip);
    document.body.replaceChildren();
  },
  /** Draws frames `from` to `to` (not included) and posts each as a JPEG to the server that gave this page. */
  async sendFrames(from: number, to: number): Promise<void> {
    if (!stage) throw new Error('No clip is open.');
    const sent: Promise<void>[] = [];
    for (let frame = from; frame < to; frame++) {
      // A canvas gives the blob of what it shows now, so that the next frame may be drawn meanwhile.
      const canvas = stage.draw(frame);
      const picture = new Promise<Blob | null>((done) => canvas.toBlob(done, 'image/jpeg', 0.96));
      sent.push(picture.then((blob) => post(frame, blob)));
    }
    await Promise.all(sent);
  },
});

async function post(frame: number, picture: Blob | null): Promise<void> {
  if (!picture) throw new Error(`Frame ${frame} made no picture.`);
  const answer = await fetch(`/frame?index=${frame}`, { method: 'POST', body: picture });
  if (!answer.ok) throw new Error(`Frame ${frame} was not taken: ${answer.status}.`);
}
