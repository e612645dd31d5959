/** The emulated host: answers batches, sends events, and gives a renderer what the grid does not draw. */
import { formatAddress, intersection } from "./a1";
import { type ChartModel, chartModel } from "./chart-model";
import { CopyRefused, NOT_IN_VIEWER } from "./document-copy";
import type { Engine, EngineEvent } from "./engine";
import { DOCUMENT_SELECTION_EVENT, type HostMessage } from "./messages";
import { Model } from "./model";
import { growWithTyping } from "./objects/table-rows";
import { type Batch, processBatch, type Response } from "./process";

export type { ChartModel } from "./chart-model";
export type { Batch, Response } from "./process";

const EVENT_CATEGORY = 65536;
const WORKBOOK_TARGET = "Workbook";

/** The client's numbers for the events. */
const EVENT = {
  changed: 10,
  activated: 11,
  deactivated: 12,
  added: 13,
  selectionChanged: 14,
  deleted: 15,
  calculated: 16,
  tableChanged: 101,
};

export class Host {
  readonly model: Model;
  private queue: Promise<unknown> = Promise.resolve();
  private readonly listeners = new Set<(messages: HostMessage[]) => void>();
  private outbox: HostMessage[] = [];
  private announced = false;

  constructor(
    readonly engine: Engine,
    private readonly namespace = "GRIT",
  ) {
    this.model = new Model(engine);
    engine.listen((event) => this.tell(event));
    engine.listen((event) => {
      // Once the command that brought the edit is through.
      if (event.kind === "cells" && event.byUser)
        queueMicrotask(() => growWithTyping(this.model, event.sheetId, event.rect));
    });
  }

  /** Answers a batch; batches wait for one another, and what they wrote is calculated when they are answered. */
  process(batch: Batch): Promise<Response> {
    const answer = this.queue.then(async () => {
      const response = await processBatch(this.model, batch);
      await this.engine.settle();
      this.engine.sizes.fitRows();
      return response;
    });
    this.queue = answer.catch(() => undefined);
    return answer;
  }

  /** The workbook as the .xlsx file that saving it would give, once the batches before are answered. */
  file(): Promise<Uint8Array> {
    const file = this.queue.then(async () => {
      if (this.model.conditions.withoutFile) throw new CopyRefused(NOT_IN_VIEWER);
      await this.engine.settle();
      const { workbookXlsx } = await import("./xlsx");
      return workbookXlsx(this.model, this.namespace);
    });
    this.queue = file.catch(() => undefined);
    return file;
  }

  /** Calls back with the file of a workbook that the add-in opens beside this one. */
  onOpen(listener: (file: Uint8Array) => void): () => void {
    return this.model.onOpen(listener);
  }

  /** The charts of a sheet with their values as they are now. */
  charts(sheetId: string): ChartModel[] {
    return this.model.sheet(sheetId).charts.map((chart) => chartModel(this.model, sheetId, chart));
  }

  /** Calls back when charts may look different: changed, moved or calculated anew. */
  onModelChange(listener: () => void): () => void {
    return this.model.onChange(listener);
  }

  onMessages(listener: (messages: HostMessage[]) => void): () => void {
    this.listeners.add(listener);
    return () => this.listeners.delete(listener);
  }

  /** What a function of the add-in says about the error that a cell shows. */
  errorMessage(sheetId: string, row: number, column: number): string | undefined {
    const shown = this.engine.value(sheetId, row, column);
    return typeof shown === "string" ? this.engine.messages.get(sheetId, row, column, shown) : undefined;
  }

  private tell(event: EngineEvent) {
    switch (event.kind) {
      case "cells": {
        const { sheetId } = event;
        const address = formatAddress(event.rect);
        const details = {
          changeType: "RangeEdited",
          source: "Local",
          worksheetId: sheetId,
          address,
          referenceId: `${sheetId}!${address}`,
          shiftDirection: "None",
        };
        this.post(EVENT.changed, [sheetId, WORKBOOK_TARGET], details);
        for (const table of this.engine.book.tables) {
          if (table.sheetId !== sheetId || !intersection(table.rect, event.rect)) continue;
          this.post(EVENT.tableChanged, [table.id, sheetId, WORKBOOK_TARGET], { ...details, tableId: table.id });
        }
        break;
      }
      case "selection": {
        const address = formatAddress(event.rect);
        const details = { worksheetId: event.sheetId, address };
        this.post(EVENT.selectionChanged, [event.sheetId, WORKBOOK_TARGET], details);
        this.post(DOCUMENT_SELECTION_EVENT, [""], {});
        break;
      }
      case "activated":
        this.post(EVENT.deactivated, [event.before, WORKBOOK_TARGET], { worksheetId: event.before });
        this.post(EVENT.activated, [event.sheetId, WORKBOOK_TARGET], { worksheetId: event.sheetId });
        break;
      case "calculated":
        for (const sheetId of event.sheetIds) {
          this.post(EVENT.calculated, [sheetId, WORKBOOK_TARGET], { worksheetId: sheetId, address: "" });
        }
        break;
      case "sheetAdded":
        this.post(EVENT.added, [WORKBOOK_TARGET], { worksheetId: event.sheetId, source: "Local" });
        break;
      case "sheetDeleted":
        this.post(EVENT.deleted, [WORKBOOK_TARGET], { worksheetId: event.sheetId, source: "Local" });
        break;
    }
  }

  /** Collects messages; they leave together, after the batch that caused them is answered. */
  private post(messageType: number, targets: readonly string[], details: object) {
    const message = JSON.stringify(details);
    for (const targetId of targets)
      this.outbox.push({ messageCategory: EVENT_CATEGORY, messageType, targetId, message });
    if (this.announced) return;
    this.announced = true;
    void this.queue.then(() => {
      this.announced = false;
      const messages = this.outbox;
      this.outbox = [];
      for (const listener of this.listeners) listener(messages);
    });
  }
}

export const createHost = (engine: Engine, namespace?: string): Host => new Host(engine, namespace);
