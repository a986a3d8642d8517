import { project } from './camera';
import { frameCount, stampOf, timeOfFrame, type DemoClip } from './demo-clips';
import { JOINTS } from './pose';
import { swingOf } from './swing';

const whole = (value: number, by: number) => Math.round(value * by);

/**
 * What is known about every frame of a clip. `space` holds x, y, z of each joint in millimetres of the plate's frame,
 * `picture` x, y in tenths of a pixel of the upright picture, both joint after joint in the order of `joints`.
 */
export function truthOf(clip: DemoClip) {
  const swing = swingOf(clip.hitter);
  const frames = Array.from({ length: frameCount(clip) }, (_, index) => {
    const { joints, ball } = swing.poseAt(timeOfFrame(clip, index));
    return {
      timeUs: whole(timeOfFrame(clip, index), 1e6),
      stampUs: stampOf(clip, index),
      space: JOINTS.flatMap((name) => joints[name].map((value) => whole(value, 1000))),
      picture: JOINTS.flatMap((name) => project(clip.camera, joints[name]).map((value) => whole(value, 10))),
      ball: ball.map((value) => whole(value, 1000)),
    };
  });
  return {
    clip: clip.name,
    bats: clip.hitter.bats,
    camera: clip.camera,
    timing: swing.timing,
    style: clip.hitter.style,
    joints: JOINTS,
    frames,
  };
}
