import { type } from "../../actions/opponents/profile";
import { passersOf, ratingFor, withRating, type OpponentSheet, type Rated, type RatingRow } from "../../actions/opponents/sheet";
import { inOneLine } from "../../actions/match/sheet";
import { LEVELS } from "../../api/opponents";
import { LineupPad } from "../../parts/match/LineupPad";
import { LEVEL_NAMES } from "./words";

/** What is known of them beside their formations. Nothing here is needed; each line makes the calls sharper. */
export function Known({ sheet }: { sheet: OpponentSheet }) {
  const slots = ["1", "2", "3", "4", "5", "6", "7", "8", "9"] as const;
  return (
    <section class="known" aria-labelledby="known-title">
      <h2 id="known-title">What is known of them</h2>
      <div class="fields">
        <label class="field">Name <input type="text" maxLength={100} value={sheet.name} onInput={(event) => type({ name: event.currentTarget.value })} /></label>
        <label class="field">Level
          <select value={sheet.level ?? ""} onChange={(event) => type({ level: (event.currentTarget.value || null) as OpponentSheet["level"] })}>
            <option value="">as our team</option>
            {LEVELS.map((level) => <option key={level} value={level}>{LEVEL_NAMES[level]}</option>)}
          </select>
        </label>
      </div>
      <details><summary>Line-up, setters, liberos <span class="caption">{inOneLine(sheet.lineup) || "not known yet"}</span></summary>
        <p class="caption">Positions at the start of a set, as we see them across the net.</p>
        <LineupPad side="them" draft={sheet.lineup} onChange={(lineup) => type({ lineup })} /></details>
      <details><summary>Where their passes go <span class="caption">{passInOneLine(sheet)}</span></summary>
        <div class="fields">
          <label class="field">Along the net
            <select value={sheet.slot} onChange={(event) => type({ slot: event.currentTarget.value })}>
              <option value="">not known: the usual place</option>
              {slots.map((slot) => <option key={slot} value={slot}>{slotInWords(slot)}</option>)}
            </select>
          </label>
          <label class="field">Off the net, m
            <input type="number" inputMode="decimal" min="0" max="9" step="0.1" value={sheet.off_net_m} placeholder="1" onInput={(event) => type({ off_net_m: event.currentTarget.value })} />
          </label>
          <label class="field">The setter faces
            <select value={sheet.faces} onChange={(event) => type({ faces: event.currentTarget.value as OpponentSheet["faces"] })}>
              <option value="">not known</option><option value="left">her left antenna (our right)</option><option value="right">her right antenna (our left)</option>
            </select>
          </label>
        </div>
        <p class="caption">The net in nine parts of a metre, counted from their left, which is on our right.</p>
      </details>
      <details><summary>How well they pass <span class="caption">{ratedInOneLine(sheet)}</span></summary><Ratings sheet={sheet} /></details>
      <label class="field">Notes <textarea rows={3} maxLength={2000} value={sheet.notes} onInput={(event) => type({ notes: event.currentTarget.value })} /></label>
    </section>
  );
}

const ENDS: Readonly<Record<string, string>> = { 1: "1, at their left sideline", 5: "5, the middle", 9: "9, at their right sideline" };
const slotInWords = (slot: string): string => ENDS[slot] ?? slot;

function passInOneLine({ slot, off_net_m, faces }: OpponentSheet): string {
  const where = slot && `part ${slot}, ${off_net_m || "1"} m off`;
  return [where, faces && `faces her ${faces}`].filter(Boolean).join(", ") || "not known: the usual place";
}

const RATED: Readonly<Record<Rated, string>> = { unknown: "not known", weak: "weak", average: "average", strong: "strong", counted: "counted" };

function ratedInOneLine({ ratings }: OpponentSheet): string {
  const known = ratings.filter(({ rated }) => rated !== "unknown");
  return known.length === 0 ? "nobody rated" : known.map(({ number, rated, grade }) => `#${number} ${rated === "counted" ? grade || "?" : rated}`).join(", ");
}

function Ratings({ sheet }: { sheet: OpponentSheet }) {
  const numbers = passersOf(sheet);
  const rate = (row: RatingRow): void => type({ ratings: withRating(sheet, row).ratings });
  if (numbers.length === 0) return <p class="caption">Enter the line-up or the liberos first: passers are rated by their numbers.</p>;
  return (
    <ul class="ratings">
      {numbers.map((number) => {
        const row = ratingFor(sheet, number);
        return (
          <li key={number}>
            <b>#{number}</b>
            <label><span class="unseen">#{number} passes</span>
              <select value={row.rated} onChange={(event) => rate({ ...row, rated: event.currentTarget.value as Rated })}>
                {Object.entries(RATED).map(([rated, name]) => <option key={rated} value={rated}>{name}</option>)}
              </select>
            </label>
            {row.rated === "counted" && (
              <>
                <label class="field">mean grade, 0 to 3 <input type="number" inputMode="decimal" min="0" max="3" step="0.01" value={row.grade} onInput={(event) => rate({ ...row, grade: event.currentTarget.value })} /></label>
                <label class="field">of how many passes <input type="number" inputMode="numeric" min="1" step="1" value={row.passes} onInput={(event) => rate({ ...row, passes: event.currentTarget.value })} /></label>
              </>
            )}
          </li>
        );
      })}
    </ul>
  );
}
