/** The corners and points of a lesson as an open file, so that anybody can make the numbers anew. */
export const MeasureRecord = ({ lessonId, isMeasured }: { lessonId: string; isMeasured: boolean }) =>
  isMeasured ? (
    <p className="small">
      <a href={`/api/lessons/${lessonId}/measures`} download>
        Corners and points as a file
      </a>{' '}
      <span className="soft">The numbers above are made of these; anybody can make them anew.</span>
    </p>
  ) : null;
