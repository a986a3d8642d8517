declare module 'webvtt-parser' {
  export class WebVTTParser {
    constructor(entities?: Record<string, string>);
    parse(
      text: string,
      mode: 'captions' | 'metadata' | 'chapters',
    ): {
      cues: { id: string; startTime: number; endTime: number; text: string; tree: unknown }[];
      errors: { message: string; line: number }[];
    };
  }
}
