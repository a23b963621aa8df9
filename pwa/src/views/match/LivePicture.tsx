import { useStore } from "../../store/store";
import { prefer } from "../../actions/match/prefs";
import { state } from "../../actions/state";
import type { Call, CallAnswer } from "../../api/types";
import { Ceiling } from "../../parts/Ceiling";
import { Court } from "../../parts/court/Court";
import { Legend } from "../../parts/Legend";
import { signed } from "../../parts/units";
import { spoken } from "../../parts/words";
import { StayOffs } from "../Options";
import { Why } from "../Why";

interface Props { answer: CallAnswer | null; call: Call | null; pick: (index: number) => void }

/** The other options, the picture, and why: beside the call where there is room, else below it. */
export function LivePicture({ answer, call, pick }: Props) {
  const { settings } = useStore(state);
  if (!answer || !call) return null;
  const options = [{ call: answer.best as Call, worth: "best" }, ...answer.alternatives.map((a) => ({ call: a as Call, worth: a.equal ? "as good, you decide" : `${signed(a.points_per_100)} in 100` }))];
  return (
    <div class="live-picture">
      <ul class="live-options" aria-label="Other calls">
        {options.map((option, index) => !(option.call.words.call === call.words.call && option.call.kind === call.kind) && (
          <li key={`${option.call.words.call}, ${option.call.kind}`}>
            <button type="button" class="option" onClick={() => pick(index)}><span class="value">{option.call.words.call}</span><span class="caption">{option.call.kind !== call.kind && `${spoken(option.call.kind)} · `}{option.worth}</span></button>
          </li>
        ))}
      </ul>
      <section aria-label="The picture"><Court answer={answer} call={call} units={settings} /><Legend /></section>
      <Ceiling policy={answer.policy} onPick={(ceiling) => prefer({ ceiling })} />
      <div class="more"><StayOffs answer={answer} /><Why answer={answer} call={call} units={settings} /></div>
    </div>
  );
}
