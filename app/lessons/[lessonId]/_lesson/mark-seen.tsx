'use client';

import { useEffect } from 'react';
import { openLessonAction } from '@/app/lessons/actions';
import type { LessonId } from '@/lib/domain/shared/ids';

/**
 * Notes that the lesson is open before somebody. From the browser and not while the page is drawn: a page may be
 * fetched ahead of a click that never comes, and the coach would read "seen".
 */
export const MarkSeen = ({ lessonId }: { lessonId: LessonId }) => {
  useEffect(() => void openLessonAction({ lessonId }), [lessonId]);
  return null;
};
