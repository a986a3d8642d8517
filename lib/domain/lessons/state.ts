export const LESSON_STATES = ['draft', 'submitted', 'in_review', 'returned', 'closed', 'withdrawn'] as const;
export type LessonState = (typeof LESSON_STATES)[number];
export const PITCH_MODES = ['tee', 'toss', 'machine', 'live'] as const;
export type PitchMode = (typeof PITCH_MODES)[number];
export const SWING_RESULTS = ['line_drive', 'grounder', 'fly', 'missed'] as const;
export type SwingResult = (typeof SWING_RESULTS)[number];
export const HANDS = ['right', 'left'] as const;
export type Hand = (typeof HANDS)[number];
