// The tables of the records, as a list of migrations: each leads from one version of the schema to the next.
// A released migration is never changed again: whoever has run it has its tables. Add one at the end, and a fixture of the
// schema before to tests/app/records/fixtures/.

/** 'COLD' in ASCII: what tells these records from any other SQLite file. */
export const APPLICATION_ID = 0x434f4c44;

const FIRST = `
CREATE TABLE machines (
  name TEXT PRIMARY KEY,
  first_seen TEXT NOT NULL,
  simulated INTEGER NOT NULL
) STRICT;

CREATE TABLE equipment (
  id INTEGER PRIMARY KEY,
  machine TEXT NOT NULL REFERENCES machines (name),
  digest TEXT NOT NULL,
  body TEXT NOT NULL,
  first_seen TEXT NOT NULL,
  UNIQUE (machine, digest)
) STRICT;

CREATE TABLE calibrations (
  id INTEGER PRIMARY KEY,
  machine TEXT NOT NULL REFERENCES machines (name),
  counts_per_kg REAL NOT NULL,
  zero_counts REAL NOT NULL,
  first_seen TEXT NOT NULL,
  UNIQUE (machine, counts_per_kg, zero_counts)
) STRICT;

CREATE TABLE vessels (
  id INTEGER PRIMARY KEY,
  kind TEXT NOT NULL CHECK (kind IN ('tank', 'cylinder')),
  name TEXT NOT NULL UNIQUE,
  refrigerant TEXT NOT NULL,
  machine TEXT REFERENCES machines (name),
  water_capacity_m3 REAL,
  refillable INTEGER NOT NULL DEFAULT 1,
  retest_due TEXT,
  first_seen TEXT NOT NULL
) STRICT;
CREATE UNIQUE INDEX one_tank_a_machine ON vessels (machine) WHERE machine IS NOT NULL;
CREATE TRIGGER vessel_refrigerant BEFORE UPDATE OF refrigerant, kind, name ON vessels BEGIN
  SELECT RAISE(ABORT, 'a tank keeps its refrigerant for good');
END;
CREATE TRIGGER vessel_stays BEFORE DELETE ON vessels BEGIN
  SELECT RAISE(ABORT, 'records are not deleted');
END;

CREATE TABLE jobs (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  name TEXT NOT NULL,
  service TEXT NOT NULL,
  refrigerant TEXT NOT NULL,
  nominal_kg REAL NOT NULL,
  machine TEXT NOT NULL REFERENCES machines (name),
  opened_at TEXT NOT NULL,
  closed_at TEXT,
  outcome TEXT,
  recovered_kg REAL,
  charged_kg REAL,
  holder TEXT NOT NULL,
  equipment INTEGER NOT NULL REFERENCES equipment (id),
  calibration INTEGER NOT NULL REFERENCES calibrations (id),
  tank INTEGER NOT NULL REFERENCES vessels (id),
  ticket TEXT NOT NULL,
  origin TEXT NOT NULL,
  plan TEXT NOT NULL
) STRICT;
CREATE UNIQUE INDEX one_open_job ON jobs (machine) WHERE closed_at IS NULL;
CREATE INDEX jobs_by_time ON jobs (opened_at);
CREATE TRIGGER job_closed BEFORE UPDATE ON jobs WHEN OLD.closed_at IS NOT NULL BEGIN
  SELECT RAISE(ABORT, 'a closed job is not changed');
END;
CREATE TRIGGER job_stays BEFORE DELETE ON jobs BEGIN
  SELECT RAISE(ABORT, 'records are not deleted');
END;

CREATE TABLE documents (
  job INTEGER PRIMARY KEY REFERENCES jobs (id),
  body TEXT NOT NULL
) STRICT;
CREATE TRIGGER document_stands BEFORE UPDATE ON documents BEGIN
  SELECT RAISE(ABORT, 'a closed job is not changed');
END;
CREATE TRIGGER document_stays BEFORE DELETE ON documents BEGIN
  SELECT RAISE(ABORT, 'records are not deleted');
END;

CREATE TABLE journal (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  job INTEGER NOT NULL REFERENCES jobs (id),
  written_at TEXT NOT NULL,
  at_ms INTEGER NOT NULL,
  kind TEXT NOT NULL,
  body TEXT NOT NULL
) STRICT;
CREATE INDEX journal_by_job ON journal (job, id);
CREATE TRIGGER journal_stands BEFORE UPDATE ON journal BEGIN
  SELECT RAISE(ABORT, 'the journal is only added to');
END;
CREATE TRIGGER journal_stays BEFORE DELETE ON journal BEGIN
  SELECT RAISE(ABORT, 'the journal is only added to');
END;

CREATE TABLE checkpoints (
  job INTEGER PRIMARY KEY REFERENCES jobs (id),
  journal INTEGER NOT NULL REFERENCES journal (id),
  state BLOB NOT NULL
) STRICT;

CREATE TABLE worlds (
  job INTEGER PRIMARY KEY REFERENCES jobs (id),
  at_ms INTEGER NOT NULL,
  state BLOB NOT NULL
) STRICT;

CREATE TABLE traces (
  job INTEGER NOT NULL REFERENCES jobs (id),
  part INTEGER NOT NULL,
  rows BLOB NOT NULL,
  PRIMARY KEY (job, part)
) STRICT;

CREATE TABLE ledger (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  at TEXT NOT NULL,
  movement TEXT NOT NULL,
  refrigerant TEXT NOT NULL,
  mass_kg REAL NOT NULL,
  sd_kg REAL NOT NULL,
  vessel INTEGER NOT NULL REFERENCES vessels (id),
  other INTEGER REFERENCES vessels (id),
  job INTEGER REFERENCES jobs (id),
  at_ms INTEGER,
  counts_before REAL,
  counts_after REAL,
  calibration INTEGER REFERENCES calibrations (id),
  party TEXT,
  note TEXT
) STRICT;
CREATE INDEX ledger_by_vessel ON ledger (vessel, id);
CREATE INDEX ledger_by_job ON ledger (job);
CREATE INDEX ledger_by_time ON ledger (at);
CREATE TRIGGER ledger_stands BEFORE UPDATE ON ledger BEGIN
  SELECT RAISE(ABORT, 'the ledger is only added to');
END;
CREATE TRIGGER ledger_stays BEFORE DELETE ON ledger BEGIN
  SELECT RAISE(ABORT, 'the ledger is only added to');
END;

CREATE TABLE upkeep (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  machine TEXT NOT NULL REFERENCES machines (name),
  at TEXT NOT NULL,
  item TEXT NOT NULL,
  verdict TEXT NOT NULL CHECK (verdict IN ('done', 'passed', 'failed')),
  figures TEXT NOT NULL,
  note TEXT
) STRICT;
CREATE INDEX upkeep_by_item ON upkeep (machine, item, id);
CREATE TRIGGER upkeep_stands BEFORE UPDATE ON upkeep BEGIN
  SELECT RAISE(ABORT, 'upkeep is only added to');
END;
CREATE TRIGGER upkeep_stays BEFORE DELETE ON upkeep BEGIN
  SELECT RAISE(ABORT, 'upkeep is only added to');
END;

CREATE TABLE wear (
  job INTEGER PRIMARY KEY REFERENCES jobs (id),
  machine TEXT NOT NULL REFERENCES machines (name),
  at TEXT NOT NULL,
  pump_s REAL NOT NULL,
  drawn_kg REAL NOT NULL,
  wet INTEGER NOT NULL
) STRICT;
CREATE INDEX wear_by_machine ON wear (machine, at);

CREATE TABLE overrides (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  job INTEGER NOT NULL REFERENCES jobs (id),
  at_ms INTEGER NOT NULL,
  what TEXT NOT NULL,
  reason TEXT NOT NULL
) STRICT;
CREATE TRIGGER override_stands BEFORE UPDATE ON overrides BEGIN
  SELECT RAISE(ABORT, 'overrides are only added to');
END;
CREATE TRIGGER override_stays BEFORE DELETE ON overrides BEGIN
  SELECT RAISE(ABORT, 'overrides are only added to');
END;

CREATE TABLE seals (
  position INTEGER PRIMARY KEY,
  subject TEXT NOT NULL CHECK (subject IN ('job', 'ledger', 'upkeep')),
  subject_id INTEGER NOT NULL,
  hash TEXT NOT NULL,
  UNIQUE (subject, subject_id)
) STRICT;

CREATE TABLE chain (
  one INTEGER PRIMARY KEY CHECK (one = 1),
  length INTEGER NOT NULL,
  head TEXT NOT NULL
) STRICT;
INSERT INTO chain (one, length, head) VALUES (1, 0, '');
`;

/** Searching reads this instead of the whole rows, which hold plan and origin. */
const SEARCHED = 'CREATE INDEX jobs_searched ON jobs (name, refrigerant, service, machine, outcome);';

export const MIGRATIONS: readonly string[] = [FIRST, SEARCHED];
