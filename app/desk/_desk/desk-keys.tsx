'use client';

import { useRouter } from 'next/navigation';
import { useEffect } from 'react';
import { tinykeys } from 'tinykeys';
import { takeLessonAction } from '@/app/lessons/actions';

/** Keys of the desk: J and K move from row to row, Enter opens, T takes. Never while somebody writes. */
export const DeskKeys = () => {
  const router = useRouter();
  useEffect(() => {
    const links = () => [...document.querySelectorAll<HTMLElement>('[data-desk-open]')];
    const move = (by: number) => {
      const all = links();
      const at = all.findIndex((link) => link.closest('tr') === document.activeElement?.closest('tr'));
      all[at < 0 ? 0 : Math.min(all.length - 1, Math.max(0, at + by))]?.focus();
    };
    const isWriting = (event: KeyboardEvent) =>
      event.target instanceof HTMLElement && event.target.closest('input, textarea, select, dialog') !== null;
    const unless = (work: () => void) => (event: KeyboardEvent) => {
      if (isWriting(event)) return;
      event.preventDefault();
      work();
    };
    const take = () => {
      const row = document.activeElement?.closest('tr');
      const lessonId = row?.dataset.canTake ? row.dataset.lesson : undefined;
      if (lessonId) void takeLessonAction({ lessonId }).then(() => router.refresh());
    };
    return tinykeys(window, { j: unless(() => move(1)), k: unless(() => move(-1)), t: unless(take) });
  }, [router]);
  return null;
};
