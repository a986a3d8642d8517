/**
 * Everything that can be done on the bench, once: buttons, keys, the help list and the tests read this table.
 * Keys are written as tinykeys reads them ("Shift+z", "Digit1", "$mod+z": Command on a Mac, else Control).
 * `placing` keys hold while the stage has the focus and a cross or a chosen mark is in hand; they win over `bench`.
 */
interface CommandShape {
  readonly id: string;
  /** What is said and shown. */
  readonly label: string;
  readonly keys: readonly string[];
  readonly group:
    | 'Frames'
    | 'Loop and speed'
    | 'Checkpoints'
    | 'Verdict'
    | 'Tools'
    | 'Chalk'
    | 'Marks'
    | 'Measures'
    | 'Placing by keys'
    | 'View'
    | 'Breakdown'
    | 'Lesson';
  readonly scope: 'bench' | 'placing';
}

export const COMMANDS = [
  { id: 'play-pause', label: 'Play or pause', keys: ['Space'], group: 'Frames', scope: 'bench' },
  { id: 'step-back', label: 'One frame back', keys: ['ArrowLeft'], group: 'Frames', scope: 'bench' },
  { id: 'step-forward', label: 'One frame on', keys: ['ArrowRight'], group: 'Frames', scope: 'bench' },
  { id: 'jump-back', label: 'Ten frames back', keys: ['Shift+ArrowLeft'], group: 'Frames', scope: 'bench' },
  { id: 'jump-forward', label: 'Ten frames on', keys: ['Shift+ArrowRight'], group: 'Frames', scope: 'bench' },
  { id: 'first-frame', label: 'First frame', keys: ['Home'], group: 'Frames', scope: 'bench' },
  { id: 'last-frame', label: 'Last frame', keys: ['End'], group: 'Frames', scope: 'bench' },
  { id: 'previous-clip', label: 'Clip before', keys: ['Shift+,', '<'], group: 'Frames', scope: 'bench' },
  { id: 'next-clip', label: 'Next clip', keys: ['Shift+.', '>'], group: 'Frames', scope: 'bench' },

  { id: 'loop-from', label: 'Loop from this frame', keys: ['['], group: 'Loop and speed', scope: 'bench' },
  { id: 'loop-to', label: 'Loop to this frame', keys: [']'], group: 'Loop and speed', scope: 'bench' },
  { id: 'loop-off', label: 'End the loop', keys: ['Shift+l'], group: 'Loop and speed', scope: 'bench' },
  { id: 'slower', label: 'Slower', keys: ['ArrowDown'], group: 'Loop and speed', scope: 'bench' },
  { id: 'faster', label: 'Faster', keys: ['ArrowUp'], group: 'Loop and speed', scope: 'bench' },

  { id: 'go-stance', label: 'Go to Stance', keys: ['Digit1'], group: 'Checkpoints', scope: 'bench' },
  { id: 'go-load', label: 'Go to Load', keys: ['Digit2'], group: 'Checkpoints', scope: 'bench' },
  {
    id: 'go-foot-strike',
    label: 'Go to Foot strike',
    keys: ['Digit3'],
    group: 'Checkpoints',
    scope: 'bench',
  },
  { id: 'go-contact', label: 'Go to Contact', keys: ['Digit4'], group: 'Checkpoints', scope: 'bench' },
  { id: 'go-finish', label: 'Go to Finish', keys: ['Digit5'], group: 'Checkpoints', scope: 'bench' },
  {
    id: 'pin-stance',
    label: 'Pin Stance here',
    keys: ['Shift+Digit1'],
    group: 'Checkpoints',
    scope: 'bench',
  },
  { id: 'pin-load', label: 'Pin Load here', keys: ['Shift+Digit2'], group: 'Checkpoints', scope: 'bench' },
  {
    id: 'pin-foot-strike',
    label: 'Pin Foot strike here',
    keys: ['Shift+Digit3'],
    group: 'Checkpoints',
    scope: 'bench',
  },
  {
    id: 'pin-contact',
    label: 'Pin Contact here',
    keys: ['Shift+Digit4'],
    group: 'Checkpoints',
    scope: 'bench',
  },
  {
    id: 'pin-finish',
    label: 'Pin Finish here',
    keys: ['Shift+Digit5'],
    group: 'Checkpoints',
    scope: 'bench',
  },

  { id: 'next-item', label: 'Next item', keys: ['j'], group: 'Verdict', scope: 'bench' },
  { id: 'previous-item', label: 'Item before', keys: ['k'], group: 'Verdict', scope: 'bench' },
  { id: 'verdict-set', label: 'Judge it set', keys: ['s'], group: 'Verdict', scope: 'bench' },
  { id: 'verdict-close', label: 'Judge it close', keys: ['c'], group: 'Verdict', scope: 'bench' },
  { id: 'verdict-off', label: 'Judge it off', keys: ['o'], group: 'Verdict', scope: 'bench' },
  { id: 'verdict-not-seen', label: 'Judge it not seen', keys: ['u'], group: 'Verdict', scope: 'bench' },
  { id: 'verdict-none', label: 'Take the verdict back', keys: ['Shift+u'], group: 'Verdict', scope: 'bench' },
  { id: 'fix-first', label: 'Fix this first', keys: ['x'], group: 'Verdict', scope: 'bench' },
  { id: 'write-note', label: 'Write the note', keys: ['m'], group: 'Verdict', scope: 'bench' },
  { id: 'add-cue', label: 'Add a cue', keys: ['q'], group: 'Verdict', scope: 'bench' },

  { id: 'tool-select', label: 'Choose a mark', keys: ['v'], group: 'Tools', scope: 'bench' },
  { id: 'tool-line', label: 'Line', keys: ['l'], group: 'Tools', scope: 'bench' },
  { id: 'tool-arrow', label: 'Arrow', keys: ['a'], group: 'Tools', scope: 'bench' },
  { id: 'tool-plumb', label: 'Plumb line', keys: ['p'], group: 'Tools', scope: 'bench' },
  { id: 'tool-angle', label: 'Angle on the picture', keys: ['n'], group: 'Tools', scope: 'bench' },
  { id: 'tool-circle', label: 'Ring', keys: ['r'], group: 'Tools', scope: 'bench' },
  { id: 'tool-freehand', label: 'Free hand', keys: ['f'], group: 'Tools', scope: 'bench' },
  { id: 'tool-text', label: 'Words', keys: ['t'], group: 'Tools', scope: 'bench' },
  { id: 'tool-erase', label: 'Rub out', keys: ['e'], group: 'Tools', scope: 'bench' },

  { id: 'chalk-white', label: 'White chalk', keys: ['Digit7'], group: 'Chalk', scope: 'bench' },
  { id: 'chalk-clay', label: 'Clay chalk', keys: ['Digit8'], group: 'Chalk', scope: 'bench' },
  { id: 'chalk-sky', label: 'Sky chalk', keys: ['Digit9'], group: 'Chalk', scope: 'bench' },

  { id: 'undo', label: 'Take back', keys: ['z', '$mod+z'], group: 'Marks', scope: 'bench' },
  { id: 'redo', label: 'Bring back', keys: ['Shift+z', '$mod+Shift+z'], group: 'Marks', scope: 'bench' },
  { id: 'next-mark', label: 'Choose the next mark', keys: ['.'], group: 'Marks', scope: 'bench' },
  { id: 'previous-mark', label: 'Choose the mark before', keys: [','], group: 'Marks', scope: 'bench' },
  { id: 'show-chalk', label: 'Show or hide the chalk', keys: ['h'], group: 'Marks', scope: 'bench' },
  { id: 'pen-mode', label: 'Draw with the pen only', keys: ['y'], group: 'Marks', scope: 'bench' },

  { id: 'ground', label: 'Set the ground', keys: ['g'], group: 'Measures', scope: 'bench' },
  {
    id: 'points',
    label: 'Set points of the hitter',
    keys: ['d'],
    group: 'Measures',
    scope: 'bench',
  },

  {
    id: 'place',
    label: 'Show the cross, set a point, or take the next handle',
    keys: ['Enter'],
    group: 'Placing by keys',
    scope: 'placing',
  },
  { id: 'nudge-left', label: 'Move left', keys: ['ArrowLeft'], group: 'Placing by keys', scope: 'placing' },
  {
    id: 'nudge-right',
    label: 'Move right',
    keys: ['ArrowRight'],
    group: 'Placing by keys',
    scope: 'placing',
  },
  { id: 'nudge-up', label: 'Move up', keys: ['ArrowUp'], group: 'Placing by keys', scope: 'placing' },
  { id: 'nudge-down', label: 'Move down', keys: ['ArrowDown'], group: 'Placing by keys', scope: 'placing' },
  {
    id: 'nudge-left-far',
    label: 'Move left by ten',
    keys: ['Shift+ArrowLeft'],
    group: 'Placing by keys',
    scope: 'placing',
  },
  {
    id: 'nudge-right-far',
    label: 'Move right by ten',
    keys: ['Shift+ArrowRight'],
    group: 'Placing by keys',
    scope: 'placing',
  },
  {
    id: 'nudge-up-far',
    label: 'Move up by ten',
    keys: ['Shift+ArrowUp'],
    group: 'Placing by keys',
    scope: 'placing',
  },
  {
    id: 'nudge-down-far',
    label: 'Move down by ten',
    keys: ['Shift+ArrowDown'],
    group: 'Placing by keys',
    scope: 'placing',
  },
  { id: 'let-go', label: 'Let go', keys: ['Escape'], group: 'Placing by keys', scope: 'placing' },
  {
    id: 'delete-mark',
    label: 'Rub out the chosen mark',
    keys: ['Delete', 'Backspace'],
    group: 'Placing by keys',
    scope: 'placing',
  },

  { id: 'zoom-in', label: 'Closer', keys: ['+', '='], group: 'View', scope: 'bench' },
  { id: 'zoom-out', label: 'Farther', keys: ['-'], group: 'View', scope: 'bench' },
  { id: 'zoom-fit', label: 'Whole picture', keys: ['Digit0'], group: 'View', scope: 'bench' },
  { id: 'full-screen', label: 'Full screen', keys: ['Shift+f'], group: 'View', scope: 'bench' },
  { id: 'help', label: 'Keys and commands', keys: ['Shift+?'], group: 'View', scope: 'bench' },

  { id: 'record', label: 'Record, pause, or go on', keys: ['b'], group: 'Breakdown', scope: 'bench' },
  { id: 'record-stop', label: 'Stop recording', keys: ['Shift+b'], group: 'Breakdown', scope: 'bench' },
  {
    id: 'record-again',
    label: 'Say the last ten seconds again',
    keys: ['Shift+a'],
    group: 'Breakdown',
    scope: 'bench',
  },
  {
    id: 'breakdowns',
    label: 'Breakdowns of this lesson',
    keys: ['Shift+d'],
    group: 'Breakdown',
    scope: 'bench',
  },

  { id: 'preview', label: 'See it as the player will', keys: ['Shift+p'], group: 'Lesson', scope: 'bench' },
  { id: 'return-lesson', label: 'Return the lesson', keys: ['Shift+r'], group: 'Lesson', scope: 'bench' },
] as const satisfies readonly CommandShape[];

export type Command = (typeof COMMANDS)[number];
export type CommandId = Command['id'];

const BY_ID = new Map<string, Command>(COMMANDS.map((command) => [command.id, command]));

/** The command with an id, for a button: its label, its keys. */
export const commandOf = (id: CommandId): CommandShape => {
  const command = BY_ID.get(id);
  if (!command) throw new Error(`There is no command ${id}.`);
  return command;
};

const isSingleKey = (keys: string) => /^(Shift\+)?(.|Digit\d)$/.test(keys);

/**
 * The key map of a scope for tinykeys. `canSingleKeys` false leaves out keys that are one character, which people who
 * speak to their computer must be able to switch off (WCAG 2.2, 2.1.4).
 */
export const keyMap = (
  scope: Command['scope'],
  run: (id: CommandId, event: KeyboardEvent) => void,
  canSingleKeys = true,
): Record<string, (event: KeyboardEvent) => void> =>
  Object.fromEntries(
    COMMANDS.filter((command) => command.scope === scope).flatMap((command) =>
      command.keys
        .filter((keys) => canSingleKeys || !isSingleKey(keys))
        .map((keys) => [keys, (event: KeyboardEvent) => run(command.id, event)]),
    ),
  );

const SPOKEN: Readonly<Record<string, string>> = {
  ArrowLeft: 'Left',
  ArrowRight: 'Right',
  ArrowUp: 'Up',
  ArrowDown: 'Down',
  $mod: 'Command or Control',
};

/** Keys as they are written in the help list: "Shift Left", "7", "Command or Control Z". */
export const spokenKeys = (keys: string): string =>
  keys
    .split(/(?<=.)\+(?=.)/)
    .map((key) => SPOKEN[key] ?? key.replace(/^Digit/, ''))
    .map((key) => (key.length === 1 ? key.toUpperCase() : key))
    .join(' ');
