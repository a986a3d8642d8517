import type { Body } from '../body';
import type { Pose } from '../pose';
import { drawHead } from './head';
import { materialsOf, type Kit } from './kit';
import { drawArm, drawBat, drawLeg } from './limb-shapes';
import { Sculptor } from './sculptor';
import { drawTrunk } from './trunk';

/** A hitter in a kit: `draw` puts the meshes of a pose into `group`, in place of those before. */
export function figureOf(body: Body, kit: Kit) {
  const sculptor = new Sculptor(body, materialsOf(kit));
  return {
    group: sculptor.group,
    draw(pose: Pose): void {
      sculptor.clear();
      drawTrunk(sculptor, pose);
      for (const side of ['lead', 'trail'] as const) {
        drawLeg(sculptor, pose.legs[side]);
        drawArm(sculptor, pose.arms[side], pose.bat.direction, pose.chest);
      }
      drawHead(sculptor, pose, kit);
      drawBat(sculptor, pose);
    },
  };
}
