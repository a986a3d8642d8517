import Form from 'next/form';
import { GIVE_OUT_FORM } from './give-out-form';
import css from './desk.module.css';

/** For leads, under the desk: leads on to where the ticked lessons are given out. */
export const GiveOutBar = () => (
  <Form action="/desk/split" id={GIVE_OUT_FORM} className={css.giveOut}>
    <button type="submit" className="btn">
      Give out the ticked lessons
    </button>
    <p className="small soft">With none ticked: all that nobody has yet.</p>
  </Form>
);
