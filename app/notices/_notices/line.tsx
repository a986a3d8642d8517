import { Moment } from '@/app/_ui/moment';
import { Pennant } from '@/app/_ui/pennant';
import type { NoticeLine } from '@/lib/data/notices.read';
import { isChoosable } from '@/lib/domain/notices/notice';
import { noticeWords } from '@/lib/domain/notices/words';
import css from './line.module.css';
import { NoticeLink } from './notice-link';

/** One notice: whether it is new, what it says, when it came. What keeps somebody from harm carries a pennant. */
export const Line = ({ notice, now, timeZone }: { notice: NoticeLine; now: Date; timeZone: string }) => {
  const { title } = noticeWords(notice.body);
  const words = (
    <NoticeLink id={notice.id} path={notice.body.data.path}>
      {title}
    </NoticeLink>
  );
  return (
    <li className={css.line}>
      <span>
        {!notice.isRead && (
          <>
            <svg className={css.dot} viewBox="0 0 11 11" aria-hidden="true" focusable="false">
              <path d="M5.5 0 11 5.5 5.5 11 0 5.5z" fill="currentColor" />
            </svg>
            <span className="sr">New:</span>
          </>
        )}
      </span>
      <div>
        <p className={notice.isRead ? undefined : css.unread}>
          {isChoosable(notice.body.kind) ? words : <Pennant>{words}</Pennant>}
        </p>
        <p className="small soft">
          <Moment at={notice.shownFrom} now={now} timeZone={timeZone} />
        </p>
      </div>
    </li>
  );
};
