-- The owner's own rows about the day itself and the days after: what was missing, what was locked, what was done when, and
-- kits of several vehicles. Quantities are millionths of their unit; distances are millionths of a kilometre; days are days
-- since 1970-01-01; times are UTC, ISO 8601.

-- What had to be fetched in the middle of a job, and is a line of every later kit that disturbs the component. No import
-- touches these rows.
CREATE TABLE rule (
    id INTEGER PRIMARY KEY,
    platform TEXT NOT NULL, component TEXT NOT NULL, part_type TEXT NOT NULL,
    quantity INTEGER NOT NULL CHECK (quantity > 0), unit TEXT NOT NULL,
    spec TEXT NOT NULL DEFAULT '',
    missed TEXT NOT NULL,   -- day, ISO 8601
    kit TEXT NOT NULL,      -- in which it was missing
    UNIQUE (platform, component, part_type, spec));
-- Rules that came as a file: exported elsewhere, or on another machine. `rule` is the number that a rule had there; nothing
-- hangs on it.
CREATE TABLE rules (
    id INTEGER PRIMARY KEY, platform TEXT NOT NULL, component TEXT NOT NULL, part_type TEXT NOT NULL, quantity INTEGER NOT NULL,
    unit TEXT NOT NULL, missed TEXT NOT NULL, spec TEXT, kit TEXT, "when" TEXT, rule INTEGER);
CREATE INDEX rules_platform ON rules(platform);

-- What `kit lock` wrote.
CREATE TABLE kit_lock (
    kit INTEGER PRIMARY KEY REFERENCES kit(id) ON DELETE CASCADE,
    locked TEXT NOT NULL,
    text TEXT NOT NULL);

-- One line of a vehicle's log: a job done, or a reading of its odometer alone (done is NULL).
CREATE TABLE log (
    id INTEGER PRIMARY KEY,
    vehicle INTEGER NOT NULL REFERENCES vehicle(id) ON DELETE CASCADE,
    day INTEGER NOT NULL,
    km INTEGER,                          -- what the odometer showed; NULL: nobody looked
    swapped INTEGER NOT NULL DEFAULT 0,  -- 1: another odometer counts from here
    done TEXT,                           -- the job or component
    kit TEXT, note TEXT);
CREATE INDEX log_vehicle ON log(vehicle, day);
-- What was renewed, by the service map as it was then.
CREATE TABLE log_component (
    log INTEGER NOT NULL REFERENCES log(id) ON DELETE CASCADE,
    component TEXT NOT NULL,
    PRIMARY KEY (log, component)) WITHOUT ROWID;
-- With which parts.
CREATE TABLE log_part (
    id INTEGER PRIMARY KEY,
    log INTEGER NOT NULL REFERENCES log(id) ON DELETE CASCADE,
    part TEXT NOT NULL, brand TEXT NOT NULL, part_number TEXT NOT NULL,
    quantity INTEGER, unit TEXT,
    batch TEXT);   -- batch, receipt: as the owner wrote it
CREATE INDEX log_part_log ON log_part(log);

-- One job list for several vehicles: each of its kits is a kit of one vehicle.
CREATE TABLE fleet (id INTEGER PRIMARY KEY, name TEXT NOT NULL UNIQUE COLLATE NOCASE);
ALTER TABLE kit ADD COLUMN fleet INTEGER REFERENCES fleet(id) ON DELETE CASCADE;
ALTER TABLE kit ADD COLUMN place INTEGER;   -- among the fleet's kits, from 0
