'use client';

import { useCallback, useEffect, useMemo, useRef, useState } from 'react';
import { MeasureOver, MeasureSide } from '@/app/lessons/_measure/bench-measuring';
import { jointsOnFrame, useMeasuring } from '@/app/lessons/_measure/use-measuring';
import { usePlayer, usePlayerSnapshot } from '@/app/lessons/_swing/players';
import { CHECKPOINTS, type Checkpoint } from '@/lib/domain/checkpoints/checkpoint';
import { targetsNow } from '@/lib/domain/measures/target';
import { pin, unpin } from '@/lib/domain/review/edits';
import { BesideChoice, BesidePane } from './beside-pane';
import { BenchBar } from './bench-bar';
import css from './bench.module.css';
import { benchCommands } from './bench-commands';
import { type BenchProps, pinFor } from './bench-state';
import { ChalkTray } from './chalk-tray';
import { ConflictDialog } from './conflict-dialog';
import { FrameStrip } from './frame-strip';
import { HelpDialog } from './help-dialog';
import { PreviewDialog } from './preview-dialog';
import { RecordDialogs, RecordPart } from './record-part';
import { ReturnDialog } from './return-dialog';
import { Spine } from './spine';
import { Stage } from './stage';
import { Transport } from './transport';
import { useBeside } from './use-beside';
import { useBenchKeys, useSingleKeys } from './use-bench-keys';
import { useChalkboard } from './use-chalkboard';
import { useRecording } from './use-recording';
import { useSaver } from './use-saver';

export type BenchDialog = 'return' | 'preview' | 'help' | null;

/** The bench: checkpoints as the spine, the frame on the stage, the strip and the chalk under it. */
export const Bench = (props: BenchProps) => {
  const { lesson, clips, kept, viewerId } = props;
  const ready = useMemo(() => clips.filter((clip) => clip.state === 'ready'), [clips]);
  const [clipId, setClipId] = useState<string | null>(ready[0]?.id ?? null);
  const [checkpoint, setCheckpoint] = useState<Checkpoint>('stance');
  const [itemId, setItemId] = useState<string | null>(null);
  const [dialog, setDialog] = useState<BenchDialog>(null);
  const { saver, snapshot } = useSaver(lesson.id, viewerId, kept);
  const { sheet } = snapshot;
  const clip = ready.find((one) => one.id === clipId) ?? null;
  const { player, fault } = usePlayer(clip?.id ?? null);
  const shown = usePlayerSnapshot(player);
  const stage = useRef<HTMLDivElement>(null);
  const whole = useRef<HTMLDivElement>(null);
  // A frame to stand on once the clip that has it is open.
  const goal = useRef<{ clipId: string; frame: number } | null>(null);

  const goTo = useCallback(
    (id: string, frame: number) => {
      if (id === clipId && player) return player.goTo(frame);
      goal.current = { clipId: id, frame };
      setClipId(id);
    },
    [clipId, player],
  );
  useEffect(() => {
    if (!player || goal.current?.clipId !== clipId) return;
    player.goTo(goal.current.frame);
    goal.current = null;
  }, [player, clipId]);

  const { board, chalk } = useChalkboard({ stage, clip, player, saver, sheet, itemId, onGoTo: goTo });

  const { besides, ...beside } = useBeside({
    ...{ ready, others: props.others, player, clipId, checkpoint, pins: sheet.pins },
    ...{ frame: shown.shownFrame, isPlaying: shown.mode === 'playing' },
  });
  const recording = useRecording({
    ...{ beside: beside.scene, besideClips: props.others.map((one) => one.clip) },
    ...{ lessonId: lesson.id, viewerId, ready, clip, player, board, stage, checkpoint, itemId },
    onReturn: (scene) => {
      if (scene.checkpoint) setCheckpoint(scene.checkpoint);
      setItemId(scene.itemId);
      goTo(scene.clipId, scene.frame);
    },
  });
  const { run: runRecording } = recording;

  const measuring = useMeasuring({
    clips: ready,
    tables: props.tables,
    clipId,
    player,
    frame: shown.shownFrame,
    bats: lesson.bats,
    sheet,
    saver,
  });
  const targets = useMemo(() => targetsNow(props.targets), [props.targets]);
  const { mode: measureMode, setMode: setMeasureMode } = measuring;
  const canMeasure = clip !== null && player !== null && lesson.bats !== null;
  const toggleMeasuring = useCallback(
    (mode: 'ground' | 'points') => {
      if (!canMeasure) return false;
      setMeasureMode(measureMode === mode ? null : mode);
      // Points belong to foot strike: the stage goes there unless this frame takes points itself.
      const strike = mode === 'points' && clipId ? pinFor(sheet, 'foot_strike', clipId) : null;
      const isHere = clipId !== null && jointsOnFrame(sheet, clipId, shown.shownFrame ?? 0).length > 0;
      if (strike && strike.clipId === clipId && measureMode !== 'points' && !isHere)
        player?.goTo(strike.frame);
      return true;
    },
    [canMeasure, measureMode, setMeasureMode, sheet, clipId, shown.shownFrame, player],
  );

  const choose = useCallback(
    (next: Checkpoint, item: string | null = null) => {
      setCheckpoint(next);
      setItemId(item ?? lesson.checklist.find((one) => one.checkpoint === next)?.id ?? null);
      const at = pinFor(sheet, next, clipId);
      if (at && ready.some((one) => one.id === at.clipId)) goTo(at.clipId, at.frame);
    },
    [lesson.checklist, sheet, clipId, ready, goTo],
  );

  const pinHere = useCallback(
    (which: Checkpoint) => {
      if (!saver || !clipId || shown.shownFrame === null) return;
      const frame = shown.shownFrame;
      const strike = which === 'foot_strike' ? (pinFor(sheet, which, clipId)?.strike ?? 'full_plant') : null;
      saver.edit((before) => pin(before, { checkpoint: which, clipId, frame, strike }));
      setCheckpoint(which);
    },
    [saver, clipId, shown.shownFrame, sheet],
  );

  const run = useMemo(
    () =>
      benchCommands({
        lesson,
        ready,
        clipId,
        checkpoint,
        itemId,
        player,
        board,
        saver,
        choose,
        pinHere,
        setItemId,
        setClipId,
        setDialog,
        toggleMeasuring,
        runRecording,
        goFullScreen: () => {
          if (document.fullscreenElement) void document.exitFullscreen();
          else void whole.current?.requestFullscreen?.();
        },
      }),
    [
      lesson,
      ready,
      clipId,
      checkpoint,
      itemId,
      player,
      board,
      saver,
      choose,
      pinHere,
      toggleMeasuring,
      runRecording,
    ],
  );
  const [canSingleKeys, setSingleKeys] = useSingleKeys();
  useBenchKeys(run, dialog === null, canSingleKeys);

  const pins = CHECKPOINTS.flatMap((one) => {
    const at = clipId ? sheet.pins.find((p) => p.checkpoint === one && p.clipId === clipId) : undefined;
    return at ? [at] : [];
  });
  return (
    <div className={css.bench} ref={whole}>
      <BenchBar {...props} snapshot={snapshot} saver={saver} run={run} recording={recording} />
      <MeasureSide
        measuring={measuring}
        clip={clip}
        frame={shown.shownFrame}
        bats={lesson.bats}
        saver={saver}
        targets={targets}
        now={props.now}
        timeZone={props.timeZone}
        onGoTo={(frame) => player?.goTo(frame)}
      />
      <Spine
        {...props}
        measured={measuring.measured}
        targetsNow={targets}
        isMeasuring={measureMode !== null}
        run={run}
        onGo={goTo}
        clips={ready}
        sheet={sheet}
        saver={saver}
        checkpoint={checkpoint}
        itemId={itemId}
        clipId={clipId}
        frame={shown.shownFrame}
        board={board}
        chalk={chalk}
        onChoose={choose}
        onItem={setItemId}
        onPin={pinHere}
        onUnpin={(which) => clipId && saver?.edit((before) => unpin(before, which, clipId))}
      />
      <main id="main" className={`night ${css.look}`} tabIndex={-1} aria-label="The swing">
        <Stage
          stage={stage}
          clip={clip}
          clips={clips}
          fault={fault}
          snapshot={shown}
          chalk={chalk}
          board={board}
          onRetry={() => player?.retry()}
        >
          <MeasureOver
            measuring={measuring}
            clipId={clipId}
            frame={shown.shownFrame}
            bats={lesson.bats}
            viewport={chalk.viewport}
            board={board}
            player={player}
            targets={targets}
            isHidden={!chalk.isChalkShown}
          />
          {clip ? <BesidePane beside={beside} clipId={clip.id} at={checkpoint} /> : null}
          <RecordPart {...props} recording={recording} run={run} />
        </Stage>
        <Transport
          clip={clip}
          ready={ready}
          snapshot={shown}
          checkpoint={checkpoint}
          pins={pins}
          zoom={chalk.zoom}
          choice={besides.length > 0 ? <BesideChoice clips={besides} beside={beside} /> : null}
          run={run}
          onClip={setClipId}
          onSpeed={(speed) => player?.setSpeed(speed)}
        />
        {player && clip ? (
          <FrameStrip player={player} snapshot={shown} pins={pins} onGo={(frame) => player.goTo(frame)} />
        ) : (
          <div className={css.nostrip} />
        )}
        <ChalkTray
          chalk={chalk}
          isReady={board !== null}
          run={run}
          measureMode={measureMode}
          canMeasure={canMeasure}
        />
      </main>
      <ReturnDialog
        {...props}
        isOpen={dialog === 'return'}
        onClose={() => setDialog(null)}
        saver={saver}
        sheet={sheet}
        onItem={(id) => {
          const item = lesson.checklist.find((one) => one.id === id);
          setDialog(null);
          if (item) choose(item.checkpoint, item.id);
        }}
        onPreview={() => setDialog('preview')}
      />
      <PreviewDialog
        {...props}
        isOpen={dialog === 'preview'}
        onClose={() => setDialog(null)}
        sheet={sheet}
        clips={ready}
        measured={measuring.measured}
        targets={targets}
      />
      <HelpDialog
        isOpen={dialog === 'help'}
        onClose={() => setDialog(null)}
        canSingleKeys={canSingleKeys}
        onSingleKeys={setSingleKeys}
      />
      <RecordDialogs {...props} recording={recording} run={run} />
      <ConflictDialog snapshot={snapshot} saver={saver} lesson={lesson} />
      <p className="sr" aria-live="polite" key={chalk.announcement.turn}>
        {chalk.announcement.text}
      </p>
    </div>
  );
};
