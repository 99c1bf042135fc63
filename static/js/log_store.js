// Taps on this phone. Every tap is written to IndexedDB before it is shown, and stays there
// until the server has named its id. Taps hold ids only, never a name.
//
// A record: { id, team, practice, made, state, tap }. States: open (an error whose details are
// still being tapped), waiting, kept, held (for a decision), refused (could not be read).

const NAME = "coachbook-taps";
const STORE = "taps";
const DAY = 86_400_000;

export const newId = () => {
  if (window.crypto.randomUUID) return window.crypto.randomUUID();
  // On plain http there is no randomUUID: the same 122 random bits by hand (RFC 9562, 5.4).
  const bytes = window.crypto.getRandomValues(new Uint8Array(16));
  bytes[6] = (bytes[6] & 0x0f) | 0x40;
  bytes[8] = (bytes[8] & 0x3f) | 0x80;
  const hex = [...bytes].map((byte) => byte.toString(16).padStart(2, "0")).join("");
  return [hex.slice(0, 8), hex.slice(8, 12), hex.slice(12, 16), hex.slice(16, 20), hex.slice(20)].join("-");
};

const opened = () =>
  new Promise((resolve, reject) => {
    const request = indexedDB.open(NAME, 1);
    request.onupgradeneeded = () => {
      const store = request.result.createObjectStore(STORE, { keyPath: "id" });
      store.createIndex("state", "state");
      store.createIndex("practice", "practice");
    };
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => reject(request.error);
    request.onblocked = () => reject(new Error("blocked"));
  });

export class TapStore {
  // fault: "" while all is well, "no_storage" without IndexedDB, "full" when a write failed.
  static async open() {
    const store = new TapStore();
    try {
      store.db = await opened();
      if (navigator.storage && navigator.storage.persist) navigator.storage.persist();
    } catch {
      store.fault = "no_storage";
    }
    return store;
  }

  constructor() {
    this.db = null;
    this.fault = "";
    this.memory = new Map(); // what could not be written; gone with the page
  }

  // Resolves once the records are on the disk, or in memory with the fault set.
  async put(...records) {
    if (this.db) {
      try {
        await this.transact("readwrite", (store) => records.forEach((record) => store.put(record)));
        records.forEach((record) => this.memory.delete(record.id));
        if (this.fault === "full" && !this.memory.size) this.fault = "";
        return;
      } catch {
        this.fault = "full";
      }
    }
    records.forEach((record) => this.memory.set(record.id, record));
  }

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

  // The server has answered for these ids. Read and written in one transaction.
  async settle(ids, state) {
    for (const id of ids) if (this.memory.has(id)) this.memory.get(id).state = state;
    if (!this.db || !ids.length) return;
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
    if (open.length) await this.put(...open.map((record) => ({ ...record, state: "waiting" })));
    const old = (await this.rows("state", "kept")).filter((record) => record.made < Date.now() - 2 * DAY);
    if (old.length) await this.transact("readwrite", (store) => old.forEach((record) => store.delete(record.id)));
  }

  rows(index, key) {
    if (!this.db) return Promise.resolve([]);
    return new Promise((resolve, reject) => {
      const request = this.db.transaction(STORE).objectStore(STORE).index(index).getAll(key);
      request.onsuccess = () => resolve(request.result);
      request.onerror = () => reject(request.error);
    });
  }

  sorted(rows, belongs) {
    const held = [...this.memory.values()].filter(belongs);
    return [...rows.filter((row) => !this.memory.has(row.id)), ...held].sort((a, b) => a.made - b.made);
  }

  transact(mode, work) {
    return new Promise((resolve, reject) => {
      // strict: complete means on the disk, so that a flat battery loses nothing.
      const transaction = this.db.transaction(STORE, mode, { durability: "strict" });
      transaction.oncomplete = () => resolve();
      transaction.onerror = () => reject(transaction.error);
      transaction.onabort = () => reject(transaction.error);
      work(transaction.objectStore(STORE));
    });
  }
}
