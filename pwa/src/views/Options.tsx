import { choose } from "../actions/change";
import type { CallAnswer } from "../api/types";
import { Help } from "../parts/Help";
import { signed } from "../parts/units";

/** The best call and its alternatives; a tap shows one in words, hand and picture. */
export function Options({ answer, chosen }: { answer: CallAnswer; chosen: number }) {
  const options = [
    { words: answer.best.words, worth: "best" },
    ...answer.alternatives.map(({ words, equal, points_per_100 }) => ({ words, worth: equal ? "as good, you decide" : `${signed(points_per_100)} in 100` })),
  ];
  return (
    <section class="options" aria-labelledby="options-title">
      <h2 id="options-title">Other calls</h2>
      <ul>
        {options.map(({ words, worth }, i) => i !== chosen && (
          <li key={words.call}>
            <button type="button" class="option" onClick={() => choose(i)}>
              <span class="value">{words.call}</span>
              <span class="caption">{worth}</span>
            </button>
          </li>
        ))}
      </ul>
    </section>
  );
}

/** Serves that look inviting and give points away. */
export function StayOffs({ answer }: { answer: CallAnswer }) {
  if (answer.stay_off.length === 0) return null;
  return (
    <section class="stay-off" aria-labelledby="stay-off-title">
      <h2 id="stay-off-title">Stay off</h2>
      <ul>
        {answer.stay_off.map(({ text, points_per_100 }) => (
          <li key={text}><span>{text}</span> <span class="caption">{signed(points_per_100)} in 100</span></li>
        ))}
      </ul>
      <Help terms={["stayOff", "points"]} />
    </section>
  );
}
