'use client';

import { Icon } from '@/app/_ui/icon';
import type { RunCommand } from './bench-commands';
import { CommandButton } from './command-button';

type Props = { isPlaying: boolean; run: RunCommand; className?: string };

/** A frame back, play or pause, a frame on. */
export const StepKeys = ({ isPlaying, run, className }: Props) => (
  <>
    <CommandButton id="step-back" run={run} className={className}>
      <Icon name="left" />
    </CommandButton>
    <CommandButton id="play-pause" run={run} className={className} isPressed={isPlaying}>
      <Icon name={isPlaying ? 'pause' : 'play'} />
    </CommandButton>
    <CommandButton id="step-forward" run={run} className={className}>
      <Icon name="right" />
    </CommandButton>
  </>
);
