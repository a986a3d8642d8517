import { createAngleTool } from './angle';
import { createArrowTool } from './arrow';
import { createCircleTool } from './circle';
import { createEraseTool } from './erase';
import { createFreehandTool } from './freehand';
import { createLineTool } from './line';
import { createPlumbTool } from './plumb';
import { createSelectTool } from './select';
import { createTextTool } from './text';
import type { Tool, ToolId } from './tool';

/** Every tool of the tray, with empty hands. Total: a tool id without a tool does not compile. */
export const createTools = () =>
  ({
    select: createSelectTool(),
    line: createLineTool(),
    arrow: createArrowTool(),
    plumb: createPlumbTool(),
    angle: createAngleTool(),
    circle: createCircleTool(),
    freehand: createFreehandTool(),
    text: createTextTool(),
    erase: createEraseTool(),
  }) satisfies Record<ToolId, Tool>;
