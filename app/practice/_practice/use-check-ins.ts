'use client';

import { useRouter } from 'next/navigation';
import { useCallback, useEffect, useMemo, useState } from 'react';
import { createCheckInQueue, type WaitingCheckIn } from '@/lib/review/practice/check-in-queue';

/** Check-ins of this device: kept at once, sent now or when the network is back. */
export const useCheckIns = (ownerId: string) => {
  const router = useRouter();
  const queue = useMemo(() => createCheckInQueue(), []);
  const [waiting, setWaiting] = useState<readonly WaitingCheckIn[]>([]);

  const flush = useCallback(async () => {
    const before = await queue.list(ownerId);
    if (before.length === 0) return setWaiting([]);
    const left = await queue.flush(ownerId);
    setWaiting(left);
    if (left.length < before.length) router.refresh();
  }, [queue, ownerId, router]);

  useEffect(() => {
    const send = () => void flush();
    send();
    window.addEventListener('online', send);
    return () => window.removeEventListener('online', send);
  }, [flush]);

  return {
    waiting,
    add: async (one: Omit<WaitingCheckIn, 'refusal' | 'ownerId'>) => {
      await queue.add({ ...one, ownerId });
      await flush();
    },
    drop: async (id: string) => {
      await queue.drop(id);
      setWaiting(await queue.list(ownerId));
    },
    sendAgain: () => void flush(),
  };
};
