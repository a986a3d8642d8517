import type { Checklist } from '@/lib/domain/checkpoints/checklist';
import { CHECKPOINT_NAME, CHECKPOINTS } from '@/lib/domain/checkpoints/checkpoint';
import { VIEW_WORD } from '@/lib/domain/lessons/words';

/** The items of one version, under their checkpoints in swing order. */
export const ItemList = ({ items }: { items: Checklist }) =>
  CHECKPOINTS.filter((checkpoint) => items.some((item) => item.checkpoint === checkpoint)).map(
    (checkpoint) => (
      <section key={checkpoint}>
        <h3>{CHECKPOINT_NAME[checkpoint]}</h3>
        <ul className="ruled">
          {items
            .filter((item) => item.checkpoint === checkpoint)
            .map((item) => (
              <li key={item.id}>
                <b>{item.title}</b>
                <p>{item.lookFor}</p>
                <p className="small soft">
                  {item.standing}. Judged from{' '}
                  {item.views.map((view) => VIEW_WORD[view].toLowerCase()).join(', ')}.
                </p>
              </li>
            ))}
        </ul>
      </section>
    ),
  );
