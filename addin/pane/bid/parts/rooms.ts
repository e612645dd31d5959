/** A list of rooms: which columns say what, which rows can't be planned, and one button for the plans. */
import { html, nothing } from "lit";
import { live } from "lit/directives/live.js";
import { type BadRoom, ROOM_KEYS, type RoomKey, roomField } from "../../../../functions/bid/rooms";
import { wrongHeadingWords } from "../../../../functions/headings";
import { cellAddress } from "../../../common/a1";
import type { Plan, RoomList } from "../../../sheet";
import { button } from "../../parts/button";
import type { Part } from "../../store";
import type { RoomsCommands } from "../rooms-actions";
import { chooseHeading, headingProblems, plansIn, setAsOne, unusedHeadings } from "../rooms-list";
import type { FoundRooms, RoomsState } from "../rooms-state";
import { ROOMS } from "../rooms-texts";

interface RoomsContext {
  readonly rooms: Part<RoomsState>;
  readonly commands: RoomsCommands;
  /** What the Plan view's form says. */
  form(): Plan;
}

export function roomsView(context: RoomsContext) {
  const { rooms, commands } = context;
  const { list, found } = rooms.state;
  return html`
    <p class="note">${ROOMS.note}</p>
    <div class="row">${button(ROOMS.read, commands.read, { id: "rooms-read" })}</div>
    ${list ? html`${columnsView(context, list)} ${found ? foundView(context, list, found) : nothing}` : nothing}
  `;
}

function columnsView({ rooms, form }: RoomsContext, { headings }: RoomList) {
  const problems = headingProblems(rooms.state);
  const field = (key: RoomKey) => {
    const { label } = roomField(key);
    const chosen = rooms.state.mapping[key] ?? "";
    const wrong = problems[key];
    const choose = (event: Event) => {
      const { value } = event.target as HTMLSelectElement;
      rooms.change((now) => chooseHeading(now, key, value, form()));
    };
    return html`
      <div class="field" data-key=${key}>
        <label for="rooms-${key}">${label}</label>
        <div class="control">
          <select
            id="rooms-${key}"
            aria-invalid=${wrong ? "true" : "false"}
            aria-describedby=${wrong ? `rooms-problem-${key}` : nothing}
            @change=${choose}
          >
            <option value="" .selected=${live(chosen === "")}>${ROOMS.none}</option>
            ${headings.map((one) => html`<option value=${one} .selected=${live(one === chosen)}>${one}</option>`)}
          </select>
        </div>
        ${
          wrong
            ? html`<p class="problem" id="rooms-problem-${key}">${wrongHeadingWords(key, wrong, (k) => roomField(k).label)}</p>`
            : nothing
        }
      </div>
    `;
  };
  const read = ROOM_KEYS.flatMap((key) => {
    const heading = rooms.state.mapping[key];
    return heading === undefined ? [] : [ROOMS.field(roomField(key).label, heading)];
  });
  const unused = unusedHeadings(rooms.state);
  return html`
    <p class="note" id="rooms-read-from">
      ${read.length > 0 ? ROOMS.readFrom(read) : nothing} ${unused.length > 0 ? ROOMS.unused(unused) : nothing}
    </p>
    <details ?open=${Object.keys(problems).length > 0}>
      <summary>${ROOMS.columns}</summary>
      ${ROOM_KEYS.map(field)}
    </details>
  `;
}

/** "B7", or "row 7" where it is the row as a whole. */
function placeOf(
  { top, left, headings }: RoomList,
  { mapping }: RoomsState,
  { row, key }: Pick<BadRoom, "row" | "key">,
) {
  const heading = key && mapping[key];
  return heading === undefined ? ROOMS.row(top + row + 1) : cellAddress(top + row, left + headings.indexOf(heading));
}

const MOST_LISTED = 20;

function foundView({ rooms, commands, form }: RoomsContext, list: RoomList, { planned, bad, totals }: FoundRooms) {
  const troubled = planned.flatMap(({ row, trouble }) => (trouble ? [{ row, words: trouble }] : []));
  const wrong: readonly BadRoom[] = [...bad, ...troubled];
  const rows = new Set(wrong.map(({ row }) => row)).size;
  const plans = plansIn(rooms.state, form());
  const fit = planned.length - troubled.length;
  const choice = (asOne: boolean, label: string) => html`
    <label>
      <input
        type="radio"
        name="rooms-how"
        .checked=${live(rooms.state.asOne === asOne)}
        @change=${() => rooms.change((now) => setAsOne(now, asOne))}
      />
      ${label}
    </label>
  `;
  return html`
    <p>${ROOMS.found(list.name, fit)} ${totals > 0 ? ROOMS.totals(totals) : nothing}</p>
    ${
      rows > 0
        ? html`
            <p class="problem">${ROOMS.bad(rows)}</p>
            <ul class="to-fix-list">
              ${wrong
                .slice(0, MOST_LISTED)
                .map(
                  (one) =>
                    html`<li><p><span class="address">${placeOf(list, rooms.state, one)}</span> ${one.words}</p></li>`,
                )}
            </ul>
          `
        : nothing
    }
    <div class="row" role="radiogroup" aria-label=${ROOMS.how}>${choice(false, ROOMS.each)} ${choice(true, ROOMS.asOne)}</div>
    ${
      typeof plans === "string"
        ? html`<p class="problem">${plans}</p>`
        : html`<div class="row">${button(ROOMS.write(plans.length), commands.write, { id: "rooms-write" })}</div>`
    }
  `;
}
