import { MAX_BREAKDOWN_MS } from '@/lib/domain/breakdowns/event';

/** Why there is no microphone. Closed: each has a sentence. */
export const MIC_FAULTS = ['denied', 'no-device', 'in-use', 'not-secure', 'unsupported'] as const;
export type MicFault = (typeof MIC_FAULTS)[number];

/** What paused a take that the coach did not pause. */
export const INTERRUPTIONS = ['hidden', 'muted', 'ended', 'audio-stopped', 'encoder'] as const;
export type Interruption = (typeof INTERRUPTIONS)[number];

/** Everything that stops or hinders a recording. */
export type RecordFault =
  MicFault | 'other-tab' | 'no-clip' | 'too-short' | 'full' | 'nothing-kept' | 'not-sent' | 'not-taken';

const minutes = MAX_BREAKDOWN_MS / 60_000;
const SILENT_WAY = 'You can also go on without a microphone and write short cues instead.';

const FAULT_SENTENCE: Readonly<Record<RecordFault, string>> = {
  denied: `The browser keeps the microphone from Cagepost. Allow it beside the address of this page, or in the settings of your device, then try again. ${SILENT_WAY}`,
  'no-device': `No microphone was found. Plug one in and try again. ${SILENT_WAY}`,
  'in-use': `The microphone did not start; another program may be using it. Close that program and try again. ${SILENT_WAY}`,
  'not-secure': `A browser gives the microphone only to pages with a secure address (https). ${SILENT_WAY}`,
  unsupported: `This browser cannot record sound. ${SILENT_WAY}`,
  'other-tab':
    'A breakdown of this lesson is being recorded in another tab. Go on there, or close that tab and try again.',
  'no-clip': 'There is no clip on the stage yet. Wait until it is open, then record.',
  'too-short': 'Nothing was recorded yet, so there is nothing to keep. Speak a little, then keep it.',
  full: 'This browser has no room left to keep a copy. What you say goes straight to the server: leave this page open until it is sent.',
  'nothing-kept':
    'This browser keeps no copy of the take. What you say goes straight to the server: leave this page open until it is sent.',
  'not-sent': 'Some of the take is not on the server yet. It is kept here and goes on by itself.',
  'not-taken': 'The server did not take this breakdown. Everything is still here.',
};

const INTERRUPTION_SENTENCE: Readonly<Record<Interruption, string>> = {
  hidden: 'Paused, because this page was out of sight. Everything up to there is kept.',
  muted:
    'Paused, because the microphone went silent: a call, or its own switch. Everything up to there is kept.',
  ended:
    'Paused, because the microphone was unplugged or taken away. Everything up to there is kept. Check the microphone to go on.',
  'audio-stopped': 'Paused, because the device took the sound away. Everything up to there is kept.',
  encoder: 'Paused, because the browser stopped recording sound. Everything up to there is kept.',
};

/** What is told about a fault: what happened, what was kept, what to do. */
export const sentenceOf = (fault: RecordFault): string => FAULT_SENTENCE[fault];

/** What is told about a pause that the coach did not ask for. */
export const sentenceOfInterruption = (why: Interruption): string => INTERRUPTION_SENTENCE[why];

/** Told once a minute before the limit. */
export const NEAR_LIMIT = `A breakdown takes ${minutes} minutes. One minute is left.`;
/** Told when the limit ended the take. */
export const AT_LIMIT = `The breakdown has reached ${minutes} minutes, so it was stopped. All of it is kept; shorten it to say more.`;
