// Taps on this phone. Every tap is written to IndexedDB before it is shown, and stays there
// until the server has named its id. Taps hold ids only, never a name.
//
/**
 * A run of a play, or the taking back of one, as the server reads it.
 * @typedef {{kind: "rep", id: string, practice: number, play: number, mode: string, at: string, by: number,
 *   cast: Record<string, number>, clean: boolean, erred: string | null, slip: string | null,
 *   unit: number | null, revision: number, call?: string}} Rep
 * @typedef {{kind: "undo", id: string, rep: string, at: string, by: number}} Undo
 * A play called in a game.
 * @typedef {{kind: "called", id: string, game: number, play: number, at: string, by: number, defence: string | null,
 *   taken: string, look: string | null, result: string, points: number | null, cast: Record<string, number>,
 *   erred: string | null, period: number | null, clock: number | null, revision: number, call?: string}} Called
 * @typedef {Rep | Called | Undo} Tap
 *
 * What a phone logs for: the id of a practice, or "game 7", so that no game is taken for a practice.
 * @typedef {number | string} Where
 *
 * States: open (an error whose details are still being tapped), waiting, kept, held (for a decision),
 * refused (could not be read).
 * @typedef {"open" | "waiting" | "kept" | "held" | "refused"} State
 * @typedef {{id: string, team: number, practice: Where, made: number, state: State, tap: Tap}} TapRecord
 */

const NAME = "coachbook-taps";
const STORE = "taps";
const DAY = 86_400_000;

/** A random id, also where the browser makes none. @returns {string} */
export const newId = () => {
  const made = globalThis.crypto.randomUUID?.();
  if (made) return made;
  return idOf(globalThis.crypto.getRandomValues(new Uint8Array(16)));
};

/**
 * An id of 16 random bytes.
 * @param {Uint8Array} bytes
 */
export const idOf = (bytes) => {
  // On plain http there is no randomUUID: the same 122 random bits by hand (RFC 9562, 5.4).
  const set = [...bytes];
  set[6] = ((bytes[6] ?? 0) & 0x0f) | 0x40;
  set[8] = ((bytes[8] ?? 0) & 0x3f) | 0x80;
  const hex = set.map((byte) => byte.toString(16).padStart(2, "0")).join("");
  return [hex.slice(0, 8), hex.slice(8, 12), hex.slice(12, 16), hex.slice(16, 20), hex.slice(20)].join("-");
};

/**
 * Opens the database; closed() is called when the system shuts the connection by itself.
 * @param {() => void} closed
 * @returns {Promise<IDBDatabase>}
 */
const opened = (closed) =>
  new Promise((resolve, reject) => {
    const request = indexedDB.open(NAME, 1);
    request.onupgradeneeded = () => {
      const store = request.result.createObjectStore(STORE, { keyPath: "id" });
      store.createIndex("state", "state");
      store.createIndex("practice", "practice");
    };
    request.onsuccess = () => {
      const db = request.result;
      db.onclose = closed;
      db.onversionchange = () => {
        db.close();
        closed();
      };
      resolve(db);
    };
    request.onerror = () => reject(request.error);
    request.onblocked = () => reject(new Error("blocked"));
  });

/** @param {unknown} error */
const isFull = (error) => error instanceof DOMException && error.name === "QuotaExceededError";

export class TapStore {
  // fault: "" while all is well, "no_storage" without IndexedDB, "full" when there is no room.
  static async open() {
    const store = new TapStore();
    if (await store.ready()) {
      if (navigator.storage && navigator.storage.persist) navigator.storage.persist();
    } else {
      store.fault = "no_storage";
    }
    return store;
  }

  // The connection, opened anew where the system has closed it; null where there is none.
  async ready() {
    if (this.db) return this.db;
    try {
      this.db = await opened(() => {
        this.db = null;
      });
    } catch {
      this.db = null;
    }
    return this.db;
  }

  /**
   * Works on the database. What fails on a connection that was closed meanwhile is tried once
   * more on a new one; a full disk is full the second time, too.
   * @template T
   * @param {(db: IDBDatabase) => Promise<T>} what
   * @returns {Promise<T>}
   */
  async work(what) {
    const db = await this.ready();
    if (!db) throw new DOMException("no database", "NotFoundError");
    try {
      return await what(db);
    } catch (error) {
      if (isFull(error)) throw error;
      db.close();
      this.db = null;
    }
    const fresh = await this.ready();
    if (!fresh) throw new DOMException("no database", "NotFoundError");
    return what(fresh);
  }

  constructor() {
    /** @type {IDBDatabase | null} */
    this.db = null;
    this.fault = "";
    /** @type {Map<string, TapRecord>} */
    this.memory = new Map(); // what could not be written; gone with the page
  }

  /**
   * Resolves once the records are on the disk, or in memory with the fault set. What an earlier
   * fault has left in memory is written along.
   * @param {...TapRecord} records
   */
  async put(...records) {
    const all = new Map(this.memory);
    for (const record of records) all.set(record.id, record);
    try {
      await this.transact("readwrite", (store) => all.forEach((record) => store.put(record)));
      for (const [id, record] of all) {
        if (this.memory.get(id) === record || records.includes(record)) this.memory.delete(id);
      }
      this.fault = "";
    } catch (error) {
      this.fault = isFull(error) ? "full" : "no_storage";
      records.forEach((record) => this.memory.set(record.id, record));
    }
  }

  /**
   * For good: only what has been handed over as a file.
   * @param {string[]} ids
   */
  async drop(ids) {
    ids.forEach((id) => this.memory.delete(id));
    await this.transact("readwrite", (store) => ids.forEach((id) => store.delete(id)));
  }

  /** @param {Where} practice */
  async of(practice) {
    return this.sorted(await this.rows("practice", practice), (record) => record.practice === practice);
  }

  async waiting() {
    return this.sorted(await this.rows("state", "waiting"), (record) => record.state === "waiting");
  }

  async unsent() {
    const rows = [...(await this.rows("state", "waiting")), ...(await this.rows("state", "refused"))];
    return this.sorted(rows, (record) => record.state === "waiting" || record.state === "refused");
  }

  /**
   * The server has answered for these ids. Read and written in one transaction.
   * @param {string[]} ids
   * @param {State} state
   */
  async settle(ids, state) {
    for (const id of ids) {
      const record = this.memory.get(id);
      if (record) record.state = state;
    }
    if (!ids.length) return;
    await this.transact("readwrite", (store) => {
      for (const id of ids) {
        const request = store.get(id);
        request.onsuccess = () => {
          if (request.result) store.put({ ...request.result, state });
        };
      }
    });
  }

  // An error left open by a closed page counts as it is; what the server has kept is dropped later.
  async tidy() {
    const open = await this.rows("state", "open");
    if (open.length) await this.put(...open.map((record) => ({ ...record, state: /** @type {const} */ ("waiting") })));
    const old = (await this.rows("state", "kept")).filter((record) => record.made < Date.now() - 2 * DAY);
    if (old.length) await this.transact("readwrite", (store) => old.forEach((record) => store.delete(record.id)));
  }

  /**
   * Without a database there is nothing but what is in memory.
   * @param {string} index
   * @param {IDBValidKey} key
   * @returns {Promise<TapRecord[]>}
   */
  async rows(index, key) {
    if (!(await this.ready())) return [];
    /** @type {(db: IDBDatabase) => Promise<TapRecord[]>} */
    const read = (db) =>
      new Promise((resolve, reject) => {
        const request = db.transaction(STORE).objectStore(STORE).index(index).getAll(key);
        request.onsuccess = () => resolve(request.result);
        request.onerror = () => reject(request.error);
      });
    return this.work(read);
  }

  /**
   * @param {TapRecord[]} rows
   * @param {(record: TapRecord) => boolean} belongs
   */
  sorted(rows, belongs) {
    const held = [...this.memory.values()].filter(belongs);
    return [...rows.filter((row) => !this.memory.has(row.id)), ...held].sort((a, b) => a.made - b.made);
  }

  /**
   * @param {IDBTransactionMode} mode
   * @param {(store: IDBObjectStore) => void} write
   */
  transact(mode, write) {
    /** @type {(db: IDBDatabase) => Promise<void>} */
    const run = (db) =>
      new Promise((resolve, reject) => {
        // strict: complete means on the disk, so that a flat battery loses nothing.
        const transaction = db.transaction(STORE, mode, { durability: "strict" });
        transaction.oncomplete = () => resolve();
        // An abort says why, apart from one by a connection that is shut under it.
        transaction.onabort = () => reject(transaction.error || new DOMException("shut", "AbortError"));
        write(transaction.objectStore(STORE));
      });
    return this.work(run);
  }
}
