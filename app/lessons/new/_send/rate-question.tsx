import { ChoiceGroup } from '@/app/_ui/choice-group';

const RATES = [30, 60, 120, 240] as const;

type Props = {
  name: string;
  /** "the clip" or "clip 2". */
  which: string;
  fileRate: number | null;
  value: number | 'unknown' | null;
  onChange: (value: number | 'unknown') => void;
};

/**
 * How fast the camera took the pictures, where the file cannot tell: a phone's slow motion is stored as 30 pictures a
 * second and looks the same as ordinary film. Not knowing is an answer.
 */
export const RateQuestion = ({ name, which, fileRate, value, onChange }: Props) => (
  <ChoiceGroup<string>
    name={name}
    legend={`Was ${which} slow motion?`}
    hint={
      `It plays at ${fileRate ? `${Math.round(fileRate)} pictures a second` : 'a speed that the file does not tell'}. ` +
      'If the swing looks slower than real, it was slow motion: 120 or 240 on most phones. ' +
      'If it looks real, choose what it plays at.'
    }
    columns="four"
    value={value === null ? null : String(value)}
    onChange={(rate) => onChange(rate === 'unknown' ? 'unknown' : Number(rate))}
    choices={[
      ...RATES.map((rate) => ({ value: String(rate), label: rate < 100 ? `${rate}` : `slow, ${rate}` })),
      { value: 'unknown', label: 'I don’t know', isWhole: true },
    ]}
  />
);
