import type { Checkpoint } from '@/lib/domain/checkpoints/checkpoint';
import type { CommandId } from '@/lib/review/commands';
import type { PairPlayer } from '@/lib/review/compare/pair-player';
import { SPEEDS } from '@/lib/review/player/playhead';

const FAR = 10;

/** The pair's answer to the commands of the bench that make sense for two clips; false for all others. */
export function pairCommands(
  pair: PairPlayer | null,
  goTo: (checkpoint: Checkpoint) => void,
): (id: CommandId) => boolean {
  const changeSpeed = (it: PairPlayer, by: 1 | -1) => {
    const at = SPEEDS.indexOf(it.getSnapshot().speed);
    it.setSpeed(SPEEDS[Math.min(SPEEDS.length - 1, Math.max(0, at + by))] ?? 1);
  };
  const loopEnd = (it: PairPlayer, end: 'from' | 'to') => {
    const { loop, index, moments } = it.getSnapshot();
    it.setLoop({ from: loop?.from ?? 0, to: loop?.to ?? moments.length - 1, [end]: index });
  };
  const own: Partial<Record<CommandId, (it: PairPlayer) => void>> = {
    'play-pause': (it) => (it.getSnapshot().mode === 'playing' ? it.pause() : it.play()),
    'step-back': (it) => it.step(-1),
    'step-forward': (it) => it.step(1),
    'jump-back': (it) => it.step(-FAR),
    'jump-forward': (it) => it.step(FAR),
    'first-frame': (it) => it.goTo(0),
    'last-frame': (it) => it.goTo(it.getSnapshot().moments.length - 1),
    'loop-from': (it) => loopEnd(it, 'from'),
    'loop-to': (it) => loopEnd(it, 'to'),
    'loop-off': (it) => it.setLoop(null),
    slower: (it) => changeSpeed(it, -1),
    faster: (it) => changeSpeed(it, 1),
    'go-stance': () => goTo('stance'),
    'go-load': () => goTo('load'),
    'go-foot-strike': () => goTo('foot_strike'),
    'go-contact': () => goTo('contact'),
    'go-finish': () => goTo('finish'),
  };
  return (id) => {
    const does = own[id];
    if (!pair || !does) return false;
    does(pair);
    return true;
  };
}
