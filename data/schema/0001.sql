-- SPDX-License-Identifier: GPL-3.0-or-later
-- Schema 1. The tables of the journal are the store's own and are made by it.
--
-- Journaled tables, parents first: one a record of book-fields, columns in its order. STRICT, `id` the only UNIQUE, no
-- trigger, cascade, generated column or default: each of these would break undo or escape the journal. The visible key
-- has a plain index; that it does not occur twice is checked at commit. Bounds and choices stand in book-fields only.

CREATE TABLE person
(
  id INTEGER PRIMARY KEY,
  initials TEXT NOT NULL,
  role INTEGER NOT NULL,
  active INTEGER NOT NULL
) STRICT;
CREATE INDEX person_key ON person (initials);

CREATE TABLE supplier
(
  id INTEGER PRIMARY KEY,
  name TEXT NOT NULL,
  note TEXT
) STRICT;
CREATE INDEX supplier_key ON supplier (name);

CREATE TABLE bench
(
  id INTEGER PRIMARY KEY,
  name TEXT NOT NULL,
  machines INTEGER NOT NULL,
  people REAL NOT NULL,
  hours_week REAL,
  uptime REAL NOT NULL,
  share_free REAL NOT NULL
) STRICT;
CREATE INDEX bench_key ON bench (name);

CREATE TABLE gauge
(
  id INTEGER PRIMARY KEY,
  name TEXT NOT NULL,
  resolution REAL
) STRICT;
CREATE INDEX gauge_key ON gauge (name);

CREATE TABLE part
(
  id INTEGER PRIMARY KEY,
  number TEXT NOT NULL,
  name TEXT NOT NULL,
  source INTEGER NOT NULL,
  supplier INTEGER REFERENCES supplier (id),
  lead_days INTEGER,
  quantity REAL NOT NULL,
  price REAL
) STRICT;
CREATE INDEX part_key ON part (number);

CREATE TABLE revision
(
  id INTEGER PRIMARY KEY,
  part INTEGER NOT NULL REFERENCES part (id),
  label TEXT NOT NULL,
  state INTEGER NOT NULL,
  date TEXT,
  note TEXT
) STRICT;
CREATE INDEX revision_key ON revision (part, label);

CREATE TABLE model
(
  id INTEGER PRIMARY KEY,
  code TEXT NOT NULL,
  name TEXT NOT NULL,
  purpose TEXT,
  designer TEXT,
  target_release TEXT,
  monthly_demand INTEGER,
  archived INTEGER NOT NULL,
  caution_text TEXT
) STRICT;
CREATE INDEX model_key ON model (code);

CREATE TABLE document
(
  id INTEGER PRIMARY KEY,
  model INTEGER NOT NULL REFERENCES model (id),
  no INTEGER NOT NULL,
  kind INTEGER NOT NULL,
  title TEXT NOT NULL,
  state INTEGER NOT NULL,
  person INTEGER REFERENCES person (id),
  date TEXT
) STRICT;
CREATE INDEX document_key ON document (model, no);

CREATE TABLE step
(
  id INTEGER PRIMARY KEY,
  model INTEGER NOT NULL REFERENCES model (id),
  position INTEGER NOT NULL,
  name TEXT NOT NULL,
  kind INTEGER NOT NULL,
  bench INTEGER REFERENCES bench (id),
  setup_min REAL,
  batch INTEGER,
  cycle_min REAL,
  rework_min REAL,
  queue_days REAL,
  price REAL
) STRICT;
CREATE INDEX step_key ON step (model, position);

CREATE TABLE lot
(
  id INTEGER PRIMARY KEY,
  part INTEGER REFERENCES part (id),
  step INTEGER REFERENCES step (id),
  number TEXT NOT NULL,
  supplier INTEGER REFERENCES supplier (id),
  received TEXT,
  quantity REAL,
  verdict INTEGER,
  person INTEGER REFERENCES person (id)
) STRICT;
CREATE INDEX lot_key ON lot (part, step, number);

CREATE TABLE characteristic
(
  id INTEGER PRIMARY KEY,
  model INTEGER NOT NULL REFERENCES model (id),
  code TEXT NOT NULL,
  name TEXT NOT NULL,
  kind INTEGER NOT NULL,
  unit TEXT,
  decimals INTEGER NOT NULL,
  class INTEGER NOT NULL,
  per_unit INTEGER NOT NULL,
  shape INTEGER NOT NULL,
  fitted_at_assembly INTEGER NOT NULL,
  destructive INTEGER NOT NULL,
  step INTEGER REFERENCES step (id),
  gauge INTEGER REFERENCES gauge (id)
) STRICT;
CREATE INDEX characteristic_key ON characteristic (model, code);

CREATE TABLE hazard
(
  id INTEGER PRIMARY KEY,
  model INTEGER NOT NULL REFERENCES model (id),
  no INTEGER NOT NULL,
  what TEXT NOT NULL,
  characteristic INTEGER REFERENCES characteristic (id),
  document INTEGER REFERENCES document (id)
) STRICT;
CREATE INDEX hazard_key ON hazard (model, no);

CREATE TABLE depends
(
  id INTEGER PRIMARY KEY,
  characteristic INTEGER NOT NULL REFERENCES characteristic (id),
  part INTEGER REFERENCES part (id),
  step INTEGER REFERENCES step (id)
) STRICT;
CREATE INDEX depends_key ON depends (characteristic, part, step);

CREATE TABLE round
(
  id INTEGER PRIMARY KEY,
  model INTEGER NOT NULL REFERENCES model (id),
  label TEXT NOT NULL,
  kind INTEGER NOT NULL,
  question TEXT,
  planned_units INTEGER,
  planned_design_fixed TEXT,
  planned_parts_ready TEXT,
  planned_built TEXT,
  planned_tested TEXT,
  planned_decided TEXT,
  opened TEXT,
  design_fixed TEXT,
  parts_ready TEXT,
  built TEXT,
  tested TEXT,
  decided TEXT,
  verdict INTEGER,
  cost REAL
) STRICT;
CREATE INDEX round_key ON round (model, label);

CREATE TABLE wait
(
  id INTEGER PRIMARY KEY,
  round INTEGER NOT NULL REFERENCES round (id),
  no INTEGER NOT NULL,
  reason INTEGER NOT NULL,
  what TEXT,
  supplier INTEGER REFERENCES supplier (id),
  from_date TEXT NOT NULL,
  to_date TEXT
) STRICT;
CREATE INDEX wait_key ON wait (round, no);

CREATE TABLE issue
(
  id INTEGER PRIMARY KEY,
  model INTEGER NOT NULL REFERENCES model (id),
  no INTEGER NOT NULL,
  title TEXT NOT NULL,
  class INTEGER NOT NULL,
  found_round INTEGER REFERENCES round (id),
  found_on TEXT,
  found_step INTEGER REFERENCES step (id),
  characteristic INTEGER REFERENCES characteristic (id),
  seen_in_life_test INTEGER NOT NULL,
  seen_load REAL,
  seen_cycles REAL,
  tolerated_share REAL,
  cause TEXT,
  cause_basis INTEGER,
  owner INTEGER REFERENCES person (id),
  contained TEXT,
  cause_known TEXT,
  closed TEXT,
  outcome INTEGER,
  outcome_by INTEGER REFERENCES person (id)
) STRICT;
CREATE INDEX issue_key ON issue (model, no);

CREATE TABLE change
(
  id INTEGER PRIMARY KEY,
  model INTEGER NOT NULL REFERENCES model (id),
  no INTEGER NOT NULL,
  title TEXT NOT NULL,
  reason TEXT,
  proposed_by INTEGER REFERENCES person (id),
  proposed_on TEXT,
  entered_by INTEGER REFERENCES person (id),
  agreed_by INTEGER REFERENCES person (id),
  agreed_on TEXT,
  from_round INTEGER REFERENCES round (id),
  from_serial TEXT,
  withdrawn TEXT,
  expected_effect TEXT,
  withdrawn_reason TEXT,
  carried_out TEXT
) STRICT;
CREATE INDEX change_key ON change (model, no);

CREATE TABLE change_item
(
  id INTEGER PRIMARY KEY,
  change INTEGER NOT NULL REFERENCES change (id),
  no INTEGER NOT NULL,
  part INTEGER REFERENCES part (id),
  step INTEGER REFERENCES step (id),
  setting TEXT,
  characteristic INTEGER REFERENCES characteristic (id),
  old_revision INTEGER REFERENCES revision (id),
  new_revision INTEGER REFERENCES revision (id),
  old TEXT,
  new TEXT,
  new_label TEXT,
  value REAL,
  nominal REAL,
  lower REAL,
  upper REAL
) STRICT;
CREATE INDEX change_item_key ON change_item (change, no);

CREATE TABLE change_issue
(
  id INTEGER PRIMARY KEY,
  change INTEGER NOT NULL REFERENCES change (id),
  issue INTEGER NOT NULL REFERENCES issue (id)
) STRICT;
CREATE INDEX change_issue_key ON change_issue (change, issue);

CREATE TABLE change_effect
(
  id INTEGER PRIMARY KEY,
  change INTEGER NOT NULL REFERENCES change (id),
  characteristic INTEGER NOT NULL REFERENCES characteristic (id),
  effect INTEGER NOT NULL,
  reason TEXT,
  person INTEGER REFERENCES person (id),
  second_person INTEGER REFERENCES person (id)
) STRICT;
CREATE INDEX change_effect_key ON change_effect (change, characteristic);

CREATE TABLE "limit"
(
  id INTEGER PRIMARY KEY,
  characteristic INTEGER NOT NULL REFERENCES characteristic (id),
  from_date TEXT NOT NULL,
  nominal REAL,
  lower REAL,
  upper REAL,
  change INTEGER REFERENCES change (id)
) STRICT;
CREATE INDEX limit_key ON "limit" (characteristic, from_date);

CREATE TABLE step_setting
(
  id INTEGER PRIMARY KEY,
  step INTEGER NOT NULL REFERENCES step (id),
  name TEXT NOT NULL,
  from_date TEXT NOT NULL,
  value REAL NOT NULL,
  unit TEXT,
  change INTEGER REFERENCES change (id)
) STRICT;
CREATE INDEX step_setting_key ON step_setting (step, name, from_date);

CREATE TABLE round_part
(
  id INTEGER PRIMARY KEY,
  round INTEGER NOT NULL REFERENCES round (id),
  part INTEGER REFERENCES part (id),
  step INTEGER REFERENCES step (id),
  revision INTEGER REFERENCES revision (id),
  lot INTEGER REFERENCES lot (id),
  units INTEGER,
  first_serial TEXT
) STRICT;
CREATE INDEX round_part_key ON round_part (round, part, step, revision, lot);

CREATE TABLE round_test
(
  id INTEGER PRIMARY KEY,
  round INTEGER NOT NULL REFERENCES round (id),
  serial TEXT NOT NULL,
  characteristic INTEGER NOT NULL REFERENCES characteristic (id),
  load REAL,
  cycles INTEGER,
  destroyed INTEGER NOT NULL,
  lent INTEGER NOT NULL
) STRICT;
CREATE INDEX round_test_key ON round_test (round, serial, characteristic);

CREATE TABLE unit
(
  id INTEGER PRIMARY KEY,
  round INTEGER NOT NULL REFERENCES round (id),
  serial TEXT NOT NULL,
  part INTEGER REFERENCES part (id),
  variant TEXT,
  assembled_on TEXT,
  assembled_by INTEGER REFERENCES person (id),
  assembled_at INTEGER REFERENCES bench (id),
  went_into INTEGER REFERENCES unit (id)
) STRICT;
CREATE INDEX unit_key ON unit (round, serial);

CREATE TABLE unit_part
(
  id INTEGER PRIMARY KEY,
  unit INTEGER NOT NULL REFERENCES unit (id),
  part INTEGER REFERENCES part (id),
  step INTEGER REFERENCES step (id),
  revision INTEGER REFERENCES revision (id),
  lot INTEGER REFERENCES lot (id)
) STRICT;
CREATE INDEX unit_part_key ON unit_part (unit, part, step);

CREATE TABLE unit_event
(
  id INTEGER PRIMARY KEY,
  unit INTEGER NOT NULL REFERENCES unit (id),
  no INTEGER NOT NULL,
  date TEXT NOT NULL,
  step INTEGER REFERENCES step (id),
  kind INTEGER NOT NULL,
  issue INTEGER REFERENCES issue (id),
  minutes REAL,
  reason TEXT,
  person INTEGER REFERENCES person (id),
  back_to INTEGER REFERENCES step (id)
) STRICT;
CREATE INDEX unit_event_key ON unit_event (unit, no);

CREATE TABLE reading
(
  id INTEGER PRIMARY KEY,
  unit INTEGER NOT NULL REFERENCES unit (id),
  characteristic INTEGER NOT NULL REFERENCES characteristic (id),
  attempt INTEGER NOT NULL,
  n INTEGER NOT NULL,
  step INTEGER REFERENCES step (id),
  value REAL,
  mark INTEGER NOT NULL,
  voided INTEGER NOT NULL,
  reason TEXT,
  taken TEXT,
  person INTEGER REFERENCES person (id),
  gauge INTEGER REFERENCES gauge (id)
) STRICT;
CREATE INDEX reading_key ON reading (unit, characteristic, attempt, n);
-- No index by characteristic: its readings are found unit by unit, and a second index would slow down every import.

CREATE TABLE finding
(
  id INTEGER PRIMARY KEY,
  issue INTEGER NOT NULL REFERENCES issue (id),
  no INTEGER NOT NULL,
  unit INTEGER REFERENCES unit (id),
  lot INTEGER REFERENCES lot (id),
  affected INTEGER,
  inspected INTEGER,
  found_at INTEGER REFERENCES step (id),
  in_field INTEGER NOT NULL,
  caused_at INTEGER REFERENCES step (id),
  disposition INTEGER,
  person INTEGER REFERENCES person (id),
  date TEXT,
  reason TEXT,
  excused INTEGER NOT NULL
) STRICT;
CREATE INDEX finding_key ON finding (issue, no);

CREATE TABLE tally
(
  id INTEGER PRIMARY KEY,
  step INTEGER NOT NULL REFERENCES step (id),
  date TEXT NOT NULL,
  person INTEGER NOT NULL REFERENCES person (id),
  no INTEGER NOT NULL,
  round INTEGER NOT NULL REFERENCES round (id),
  units_in INTEGER NOT NULL,
  good_first INTEGER NOT NULL,
  reworked_good INTEGER NOT NULL,
  waiting INTEGER NOT NULL,
  scrapped INTEGER NOT NULL,
  minutes REAL,
  setup_minutes REAL,
  rework_minutes REAL
) STRICT;
CREATE INDEX tally_key ON tally (step, date, person, no);

CREATE TABLE tally_loss
(
  id INTEGER PRIMARY KEY,
  tally INTEGER NOT NULL REFERENCES tally (id),
  issue INTEGER NOT NULL REFERENCES issue (id),
  units INTEGER NOT NULL
) STRICT;
CREATE INDEX tally_loss_key ON tally_loss (tally, issue);

CREATE TABLE life_test
(
  id INTEGER PRIMARY KEY,
  model INTEGER NOT NULL REFERENCES model (id),
  no INTEGER NOT NULL,
  date TEXT NOT NULL,
  unit INTEGER NOT NULL REFERENCES unit (id),
  characteristic INTEGER NOT NULL REFERENCES characteristic (id),
  load REAL,
  cycles REAL NOT NULL,
  ended INTEGER NOT NULL,
  issue INTEGER REFERENCES issue (id)
) STRICT;
CREATE INDEX life_test_key ON life_test (model, no);

CREATE TABLE gauge_calibration
(
  id INTEGER PRIMARY KEY,
  gauge INTEGER NOT NULL REFERENCES gauge (id),
  date TEXT NOT NULL,
  due TEXT,
  in_order INTEGER NOT NULL,
  excused_by INTEGER REFERENCES person (id),
  excused_on TEXT,
  reason TEXT
) STRICT;
CREATE INDEX gauge_calibration_key ON gauge_calibration (gauge, date);

CREATE TABLE gauge_trial
(
  id INTEGER PRIMARY KEY,
  gauge INTEGER NOT NULL REFERENCES gauge (id),
  characteristic INTEGER NOT NULL REFERENCES characteristic (id),
  person INTEGER NOT NULL REFERENCES person (id),
  piece TEXT NOT NULL,
  trial INTEGER NOT NULL,
  date TEXT,
  value REAL,
  verdict INTEGER,
  known_bad INTEGER NOT NULL
) STRICT;
CREATE INDEX gauge_trial_key ON gauge_trial (gauge, characteristic, person, piece, trial);

CREATE TABLE gate
(
  id INTEGER PRIMARY KEY,
  model INTEGER NOT NULL REFERENCES model (id),
  position INTEGER NOT NULL,
  name TEXT NOT NULL
) STRICT;
CREATE INDEX gate_key ON gate (model, position);

CREATE TABLE criterion
(
  id INTEGER PRIMARY KEY,
  model INTEGER NOT NULL REFERENCES model (id),
  code TEXT NOT NULL,
  gate INTEGER NOT NULL REFERENCES gate (id),
  kind INTEGER NOT NULL,
  characteristic INTEGER REFERENCES characteristic (id),
  issue INTEGER REFERENCES issue (id),
  blocking INTEGER NOT NULL,
  strict INTEGER,
  counts_from INTEGER,
  not_looked_at TEXT
) STRICT;
CREATE INDEX criterion_key ON criterion (model, code);

CREATE TABLE criterion_term
(
  id INTEGER PRIMARY KEY,
  criterion INTEGER NOT NULL REFERENCES criterion (id),
  from_date TEXT NOT NULL,
  share REAL,
  target REAL,
  confidence REAL,
  cycles REAL,
  load REAL,
  shape_low REAL,
  shape_high REAL,
  plan_units INTEGER,
  plan_failures INTEGER,
  person INTEGER REFERENCES person (id),
  reason TEXT
) STRICT;
CREATE INDEX criterion_term_key ON criterion_term (criterion, from_date);

CREATE TABLE signoff
(
  id INTEGER PRIMARY KEY,
  gate INTEGER NOT NULL REFERENCES gate (id),
  person INTEGER NOT NULL REFERENCES person (id),
  no INTEGER NOT NULL,
  opinion INTEGER,
  conditions TEXT,
  date TEXT NOT NULL,
  withdraws INTEGER REFERENCES signoff (id),
  reason TEXT
) STRICT;
CREATE INDEX signoff_key ON signoff (gate, person, no);

CREATE TABLE waiver
(
  id INTEGER PRIMARY KEY,
  criterion INTEGER NOT NULL REFERENCES criterion (id),
  no INTEGER NOT NULL,
  reason TEXT NOT NULL,
  until TEXT,
  person INTEGER NOT NULL REFERENCES person (id),
  date TEXT NOT NULL,
  withdraws INTEGER REFERENCES waiver (id)
) STRICT;
CREATE INDEX waiver_key ON waiver (criterion, no);

CREATE TABLE decision
(
  id INTEGER PRIMARY KEY,
  gate INTEGER NOT NULL REFERENCES gate (id),
  no INTEGER NOT NULL,
  verdict INTEGER,
  at_most_units INTEGER,
  conditions TEXT,
  evidence TEXT,
  person INTEGER NOT NULL REFERENCES person (id),
  date TEXT NOT NULL,
  withdraws INTEGER REFERENCES decision (id),
  reason TEXT
) STRICT;
CREATE INDEX decision_key ON decision (gate, no);

CREATE TABLE holiday
(
  id INTEGER PRIMARY KEY,
  date TEXT NOT NULL,
  name TEXT
) STRICT;
CREATE INDEX holiday_key ON holiday (date);

CREATE TABLE setting
(
  id INTEGER PRIMARY KEY,
  name TEXT NOT NULL,
  value TEXT
) STRICT;
CREATE INDEX setting_key ON setting (name);

CREATE TABLE todo
(
  id INTEGER PRIMARY KEY,
  no INTEGER NOT NULL,
  what TEXT NOT NULL,
  person INTEGER REFERENCES person (id),
  due TEXT,
  done TEXT,
  about_record INTEGER,
  about INTEGER
) STRICT;
CREATE INDEX todo_key ON todo (no);

CREATE TABLE attachment
(
  id INTEGER PRIMARY KEY,
  owner_record INTEGER NOT NULL,
  owner INTEGER NOT NULL,
  no INTEGER NOT NULL,
  kind INTEGER NOT NULL,
  name TEXT NOT NULL,
  mime_type TEXT,
  sha256 TEXT,
  size INTEGER,
  link TEXT
) STRICT;
CREATE INDEX attachment_key ON attachment (owner_record, owner, no);

-- Kept outside the journal: can be erased without breaking it.

CREATE TABLE person_name
(
  person INTEGER PRIMARY KEY, -- no reference: undoing a person's entry leaves the name for redo
  name TEXT NOT NULL
) STRICT;

-- Counts the commits that touched a model; model 0 stands for what models share.
CREATE TABLE model_version
(
  model INTEGER PRIMARY KEY,
  version INTEGER NOT NULL
) STRICT;

-- The last answer to each question about a model, so that it opens at once.
CREATE TABLE answer
(
  model INTEGER NOT NULL,
  question TEXT NOT NULL,
  model_version INTEGER NOT NULL,
  shared_version INTEGER NOT NULL,
  through INTEGER NOT NULL, -- a round; 0: the whole story
  today TEXT NOT NULL,
  answer BLOB NOT NULL,
  PRIMARY KEY (model, question)
) STRICT, WITHOUT ROWID;
