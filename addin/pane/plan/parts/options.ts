/** What the shelf has, as the options of a choice; what is chosen and gone still shows. */
import { html, nothing } from "lit";
import { live } from "lit/directives/live.js";
import { BONDS, type Shelf } from "../../../../functions/plan/shelf";
import { PLAN } from "../texts";

type Group = readonly [label: string, names: readonly string[]];

const toolGroups = ({ tools }: Shelf): Group[] =>
  BONDS.map((bond): Group => [bond, tools.filter((tool) => tool.bond === bond).map((tool) => tool.name)]);

export const toolOptions = (shelf: Shelf, chosen: string) => grouped(toolGroups(shelf), chosen);

export const shelfOptions = (shelf: Shelf, chosen: string) =>
  grouped([...toolGroups(shelf), [PLAN.liquids, shelf.liquids.map((liquid) => liquid.name)]], chosen);

export function machineOptions({ machines }: Shelf, chosen: string) {
  const names = machines.map(({ name }) => name);
  const isGone = chosen !== "" && !names.includes(chosen);
  return html`
    <option value="" .selected=${live(chosen === "")}>${PLAN.machineAbove}</option>
    ${isGone ? html`<option value=${chosen} .selected=${live(true)}>${PLAN.machineGone(chosen)}</option>` : nothing}
    ${names.map((name) => option(name, chosen))}
  `;
}

function grouped(groups: readonly Group[], chosen: string) {
  const known = chosen === "" || groups.some(([, names]) => names.includes(chosen));
  return html`
    ${known ? nothing : html`<option value=${chosen} .selected=${live(true)}>${PLAN.toolGone(chosen)}</option>`}
    ${groups
      .filter(([, names]) => names.length > 0)
      .map(([label, names]) => html`<optgroup label=${label}>${names.map((name) => option(name, chosen))}</optgroup>`)}
  `;
}

const option = (name: string, chosen: string) =>
  html`<option value=${name} .selected=${live(name === chosen)}>${name}</option>`;
