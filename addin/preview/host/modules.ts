/**
 * The parts of the spreadsheet engine that the host uses, handed in rather than imported: the browser bundles them
 * (`browser-modules.ts`), while Node must load their CommonJS builds (`node.ts`).
 */
type Core = Pick<
  typeof import("@univerjs/core"),
  | "BooleanNumber"
  | "CellValueType"
  | "ICommandService"
  | "IConfigService"
  | "IUndoRedoService"
  | "isNullCell"
  | "LocaleType"
  | "mergeWorksheetSnapshotWithDefault"
  | "numfmt"
  | "Univer"
>;

type Formula = Pick<
  typeof import("@univerjs/engine-formula"),
  | "ArrayValueObject"
  | "BaseFunction"
  | "BaseReferenceObject"
  | "BooleanValueObject"
  | "CELL_INVERTED_INDEX_CACHE"
  | "ENGINE_FORMULA_PLUGIN_CONFIG_KEY"
  | "ErrorValueObject"
  | "FORMULA_REF_TO_ARRAY_CACHE"
  | "FormulaDataModel"
  | "FunctionType"
  | "IDefinedNamesService"
  | "IFormulaCurrentConfigService"
  | "IFormulaRuntimeService"
  | "IFunctionService"
  | "NullValueObject"
  | "NumberValueObject"
  | "RemoveDefinedNameMutation"
  | "RemoveSuperTableMutation"
  | "SetDefinedNameMutation"
  | "SetFormulaCalculationNotificationMutation"
  | "SetFormulaCalculationResultMutation"
  | "SetFormulaCalculationStartMutation"
  | "SetSuperTableMutation"
  | "SetTriggerFormulaCalculationStartMutation"
  | "StringValueObject"
  | "ValueObjectFactory"
>;

type Sheets = Pick<
  typeof import("@univerjs/sheets"),
  | "AddWorksheetMergeMutation"
  | "InsertColMutation"
  | "InsertRowMutation"
  | "InsertSheetMutation"
  | "RemoveColMutation"
  | "RemoveRowMutation"
  | "RemoveSheetMutation"
  | "RemoveWorksheetMergeMutation"
  | "SetColHiddenMutation"
  | "SetColVisibleMutation"
  | "SetFrozenMutation"
  | "SetRangeValuesMutation"
  | "SetRowHiddenMutation"
  | "SetRowVisibleMutation"
  | "SetSelectionsOperation"
  | "SetStyleCommand"
  | "SetWorksheetActiveOperation"
  | "SetWorksheetColWidthMutation"
  | "SetWorksheetColumnCountMutation"
  | "SetWorksheetHideMutation"
  | "SetWorksheetNameMutation"
  | "SetWorksheetOrderMutation"
  | "SetWorksheetRowCountMutation"
  | "SetWorksheetRowHeightMutation"
  | "SheetsSelectionsService"
  | "ToggleGridlinesMutation"
>;

type SheetsFormula = Pick<typeof import("@univerjs/sheets-formula"), "TriggerCalculationController">;

export type UniverModules = Core & Formula & Sheets & SheetsFormula;
