/** Names and tables in Univer's own registers, from which it completes formulas as they are typed. */
import type { UniverName } from "./grid-watch";
import type { UniverModules } from "./modules";
import type { NameModel, NameRegister, TableModel } from "./names";
import { UNIT, univerRange } from "./univer-range";

const WORKBOOK_SCOPE = "AllDefaultWorkbook";

export function nameRegister(modules: UniverModules, run: (id: string, params: object) => void): NameRegister {
  function setName(name: NameModel) {
    run(modules.SetDefinedNameMutation.id, {
      unitId: UNIT,
      id: name.id,
      name: name.name,
      formulaOrRefString: name.formula.replace(/^=/, ""),
      comment: name.comment,
      hidden: !name.visible,
      localSheetId: name.sheetId ?? WORKBOOK_SCOPE,
    });
  }

  function removeName(name: NameModel) {
    run(modules.RemoveDefinedNameMutation.id, {
      unitId: UNIT,
      id: name.id,
      name: name.name,
      formulaOrRefString: name.formula.replace(/^=/, ""),
      localSheetId: name.sheetId ?? WORKBOOK_SCOPE,
    });
  }

  function setTable(table: TableModel) {
    run(modules.SetSuperTableMutation.id, {
      unitId: UNIT,
      tableName: table.name,
      reference: {
        sheetId: table.sheetId,
        range: univerRange(table.rect),
        titleMap: new Map(table.columns.map(({ name }, i) => [name, i])),
      },
    });
  }

  const removeTable = (tableName: string) => run(modules.RemoveSuperTableMutation.id, { unitId: UNIT, tableName });

  return { setName, removeName, setTable, removeTable };
}

export function nameFrom({
  id,
  name,
  formulaOrRefString,
  comment = "",
  hidden = false,
  localSheetId,
}: UniverName): NameModel {
  const sheetId = localSheetId === WORKBOOK_SCOPE ? undefined : localSheetId;
  return { id, name, formula: `=${formulaOrRefString.replace(/^=/, "")}`, sheetId, comment, visible: !hidden };
}
