/** What the bid comes to, as its sheet shows it. */
import { html, nothing } from "lit";
import { symbol } from "../../../../functions/units";
import type { ReadBid, WrittenBid } from "../../../sheet";
import { figureText, hours, money, percent } from "../../numbers";
import { isoOf } from "../choice";
import { BID } from "../texts";

type Figure = keyof typeof BID.result;
const CHECKS = ["upToDate", "plansFit", "sharesFit", "itemsFit", "powerFit"] as const;

export function resultView({ units, sign, plans }: ReadBid, bid: WrittenBid) {
  const { shown } = bid;
  const inMoney = (value: unknown) => (typeof value === "number" ? money(value, sign) : BID.noFigure);
  const written = (key: Figure): string => {
    const value = shown[key];
    if (typeof value !== "number") return BID.noFigure;
    if (key === "ends") return isoOf(value);
    if (key === "marginShown") return percent(value);
    if (key === "hours") return `${hours(value)} h`;
    return key === "days" ? figureText(value) : money(value, sign);
  };
  const label = (key: Figure): string => {
    const words = BID.result[key];
    return typeof words === "string" ? words : words(symbol("floorArea", units));
  };
  const options = [
    ...bid.floors
      .filter(({ kind }) => kind === "option")
      .map(({ sheet, price }) => ({ name: plans.find((one) => one.sheet === sheet)?.floor ?? sheet, price })),
    ...bid.extras.filter(({ kind }) => kind === "option").map(({ name, price }) => ({ name: String(name), price })),
  ];
  return html`
    <section class="card" aria-labelledby="bid-result">
      <h2 id="bid-result">${BID.resultTitle}</h2>
      <p class="note">${BID.resultOn(bid.sheet)}</p>
      <dl class="figures-list">
        ${(Object.keys(BID.result) as Figure[]).map(
          (key) =>
            html`<div><dt>${label(key)}</dt><dd class=${key === "offered" ? "main" : ""}>${written(key)}</dd></div>`,
        )}
      </dl>
      ${
        options.length > 0
          ? html`
            <h3>${BID.optionsTitle}</h3>
            <dl class="figures-list">
              ${options.map(({ name, price }) => html`<div><dt>${name}</dt><dd>${inMoney(price)}</dd></div>`)}
            </dl>`
          : nothing
      }
      <h3>${BID.toBuyTitle}</h3>
      ${
        bid.toBuy.length > 0
          ? html`<ul>${bid.toBuy.map(({ name, toBuy, cost }) => html`<li>${BID.toBuy(String(toBuy), name, inMoney(cost))}</li>`)}</ul>`
          : html`<p class="note">${BID.nothingToBuy}</p>`
      }
      <h3>${BID.checksTitle}</h3>
      <dl class="figures-list bid-checks">
        ${CHECKS.map((key) => html`<div><dt>${BID.checks[key]}</dt><dd>${String(shown[key] ?? BID.noFigure)}</dd></div>`)}
      </dl>
    </section>
  `;
}
