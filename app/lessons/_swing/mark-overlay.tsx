import type { Mark } from '@/lib/domain/marks/mark';
import { markToSvg, type SvgPart } from '@/lib/review/canvas/mark-to-svg';
import css from './swing.module.css';

type Props = {
  marks: readonly Mark[];
  /** Size in CSS pixels at which the whole picture is shown. */
  width: number;
  height: number;
};

/** Marks over a picture that is shown whole at this size. The list of marks beside it says the same in words. */
export const MarkOverlay = ({ marks, width, height }: Props) => (
  <svg className={css.overlay} viewBox={`0 0 ${width} ${height}`} aria-hidden="true" focusable="false">
    {marks.map((mark) => (
      <g key={mark.id} strokeLinecap="round" strokeLinejoin="round">
        {markToSvg(mark, width, height).map((part, index) => (
          <Part key={index} part={part} />
        ))}
      </g>
    ))}
  </svg>
);

const Part = ({ part }: { part: SvgPart }) => {
  switch (part.tag) {
    case 'path': {
      const { tag: _tag, ...path } = part;
      return <path {...path} />;
    }
    case 'rect': {
      const { tag: _tag, ...rect } = part;
      return <rect {...rect} rx="2" />;
    }
    case 'text': {
      const { tag: _tag, text, ...place } = part;
      return <text {...place}>{text}</text>;
    }
    default:
      return part satisfies never;
  }
};

/** The marks that are seen on a frame of a clip. */
export const marksOn = (marks: readonly Mark[], clipId: string, frame: number): Mark[] =>
  marks.filter((mark) => mark.clipId === clipId && frame >= mark.frame && frame < mark.frame + mark.span);
