-- A file of records as version 1 of its tables left it: two weighings. Invented cars and figures. Never changed.
PRAGMA application_id = 1179669059;
PRAGMA user_version = 1;
BEGIN;
CREATE TABLE record (
  number INTEGER PRIMARY KEY,
  id TEXT NOT NULL UNIQUE,
  sha256 BLOB NOT NULL UNIQUE,
  kind TEXT NOT NULL,
  name TEXT NOT NULL,
  time_utc TEXT NOT NULL,
  software_version TEXT NOT NULL
) STRICT;
CREATE TABLE vehicle (number INTEGER PRIMARY KEY, name TEXT NOT NULL, toml TEXT NOT NULL UNIQUE) STRICT;
CREATE TABLE layout (number INTEGER PRIMARY KEY, toml TEXT NOT NULL UNIQUE) STRICT;
CREATE TABLE board (number INTEGER PRIMARY KEY, name TEXT NOT NULL UNIQUE) STRICT;
CREATE TABLE held_calibration (
  number INTEGER PRIMARY KEY,
  cell TEXT NOT NULL,
  held TEXT NOT NULL,
  UNIQUE (cell, held)
) STRICT;
CREATE TABLE cause (
  number INTEGER PRIMARY KEY,
  key TEXT NOT NULL,
  name TEXT NOT NULL,
  degrees_of_freedom REAL NOT NULL,
  shape TEXT NOT NULL,
  remedy TEXT NOT NULL,
  UNIQUE (key, name, degrees_of_freedom, shape, remedy)
) STRICT;
CREATE TABLE weighing (
  record INTEGER PRIMARY KEY REFERENCES record ON DELETE CASCADE,
  method TEXT NOT NULL,
  acceptable INTEGER NOT NULL,
  vehicle INTEGER NOT NULL REFERENCES vehicle
) STRICT;
CREATE TABLE weighing_board (
  weighing INTEGER NOT NULL REFERENCES weighing ON DELETE CASCADE,
  place INTEGER NOT NULL,
  board INTEGER NOT NULL REFERENCES board,
  PRIMARY KEY (weighing, place)
) STRICT, WITHOUT ROWID;
CREATE TABLE weighing_condition (
  weighing INTEGER NOT NULL REFERENCES weighing ON DELETE CASCADE,
  name TEXT NOT NULL,
  value TEXT NOT NULL,
  PRIMARY KEY (weighing, name)
) STRICT, WITHOUT ROWID;
CREATE TABLE weighing_reason (
  weighing INTEGER NOT NULL REFERENCES weighing ON DELETE CASCADE,
  place INTEGER NOT NULL,
  code TEXT NOT NULL,
  corner TEXT,
  text TEXT NOT NULL,
  PRIMARY KEY (weighing, place)
) STRICT, WITHOUT ROWID;
CREATE TABLE weighing_result (
  weighing INTEGER NOT NULL REFERENCES weighing ON DELETE CASCADE,
  place INTEGER NOT NULL,
  name TEXT NOT NULL,
  value REAL,
  expanded REAL,
  k REAL,
  PRIMARY KEY (weighing, place)
) STRICT, WITHOUT ROWID;
CREATE TABLE weighing_load (
  weighing INTEGER NOT NULL REFERENCES weighing ON DELETE CASCADE,
  place INTEGER NOT NULL,
  station TEXT NOT NULL,
  load_kg REAL,
  PRIMARY KEY (weighing, place)
) STRICT, WITHOUT ROWID;
CREATE TABLE weighing_contribution (
  weighing INTEGER NOT NULL,
  load INTEGER NOT NULL,
  place INTEGER NOT NULL,
  cause INTEGER NOT NULL REFERENCES cause,
  amount_kg REAL NOT NULL,
  PRIMARY KEY (weighing, load, place),
  FOREIGN KEY (weighing, load) REFERENCES weighing_load ON DELETE CASCADE
) STRICT, WITHOUT ROWID;
CREATE TABLE typed_basis (
  weighing INTEGER PRIMARY KEY REFERENCES weighing ON DELETE CASCADE,
  u_corner_kg REAL,
  resolution_kg REAL,
  same_scale INTEGER NOT NULL,
  u_span_share REAL
) STRICT;
CREATE TABLE typed_load (
  weighing INTEGER NOT NULL REFERENCES typed_basis ON DELETE CASCADE,
  place INTEGER NOT NULL,
  station TEXT NOT NULL,
  load_kg REAL NOT NULL,
  last_digit_kg REAL NOT NULL,
  PRIMARY KEY (weighing, place)
) STRICT, WITHOUT ROWID;
CREATE TABLE rig_basis (
  weighing INTEGER PRIMARY KEY REFERENCES weighing ON DELETE CASCADE,
  layout INTEGER NOT NULL REFERENCES layout,
  error_share_of_capacity REAL NOT NULL,
  zero_drift_share_of_capacity REAL NOT NULL,
  temperature_share_of_load REAL NOT NULL,
  extrapolation_share_of_excess REAL NOT NULL,
  capacity_of_load REAL NOT NULL
) STRICT;
CREATE TABLE cell_reading (
  weighing INTEGER NOT NULL REFERENCES rig_basis ON DELETE CASCADE,
  place INTEGER NOT NULL,
  cell TEXT NOT NULL,
  trouble TEXT,
  calibration INTEGER REFERENCES held_calibration,
  status TEXT,
  verdict TEXT,
  counts REAL,
  u_counts REAL,
  degrees_of_freedom REAL,
  slope_counts_per_second REAL,
  noise_counts REAL,
  used INTEGER,
  rejected INTEGER,
  end_microseconds INTEGER,
  PRIMARY KEY (weighing, place)
) STRICT, WITHOUT ROWID;
INSERT INTO record VALUES(1,'ngeq-wcax',X'AC1D7E315D6BC6AB6F6EB88620E087880CEFB10199AAA112526833EFF643F0E7','weighing','as built','2026-11-25T00:37:40.8763201Z','0.1.0');
INSERT INTO record VALUES(2,'sjbm-bqb1',X'CC9745DD61F50933BDCF72245458AFE9D6F343E4ABD9862BC78FD0730030D048','weighing','three scales','2026-11-25T00:37:42.0158946Z','0.1.0');
INSERT INTO vehicle VALUES(1,'Wren','# Lengths in mm, rates in N/mm. Behind the front axle line and left of the centre line count positive;
# left is the driver''s left, ahead is negative.
name = "Wren"
wheelbase_mm = 2180  # hub to hub, mean of both sides
track_front_mm = 1290  # middle of tyre to middle of tyre
track_rear_mm = 1260
wheel_radius_front_mm = 262  # wheel centre above ground, loaded
wheel_radius_rear_mm = 276  # wheel centre above ground, loaded
cg_height_mm = 315  # centre of gravity above ground
chassis_torsion_nm_per_deg = 2600  # between the axles

[wheel_rate_n_per_mm]  # force per mm of one wheel''s travel, springs only; inf: rigid
front = 21
rear = 26

[anti_roll_n_per_mm]  # force at each wheel per mm of left-right difference in wheel travel
front = 5
rear = 0

[tyre_rate_n_per_mm]  # vertical rate of one tyre
front = 165
rear = 185

[perch]
spring_travel_per_wheel_travel_front = 0.8  # usually 0.5 to 1
spring_travel_per_wheel_travel_rear = 0.75
thread_pitch_mm = 2  # perch movement per turn

[expected_kg]  # load at each corner, for checks of capacity
FL = 105
FR = 105
RL = 115
RR = 115

[target]  # shares from 0 to 1
front_share = 0.47
cross_share = 0.5

[uncertainty]  # standard uncertainties (one sigma), in the unit of the key
wheelbase_mm = 1.5
track_front_mm = 2
track_rear_mm = 2
');
INSERT INTO vehicle VALUES(2,'Tern','# Lengths in mm, rates in N/mm. Behind the front axle line and left of the centre line count positive;
# left is the driver''s left, ahead is negative.
name = "Tern"
kind = "three-wheeler"  # car, kart, motorcycle, three-wheeler, sidecar, trailer, tandem-axle, single-axle or bare-chassis

[wheel.front-left]
behind_front_axle_mm = 0
left_of_centre_mm = 650

[wheel.front-right]
behind_front_axle_mm = 0
left_of_centre_mm = -650

[wheel.rear]
behind_front_axle_mm = 2300
left_of_centre_mm = 0

[uncertainty]  # standard uncertainties (one sigma), in the unit of the key
wheel_position_mm = 2
');
INSERT INTO layout VALUES(1,'# Which cells make which station. Cells are BOARD:CELL; masses in kg as the cells feel them, lengths in mm.

[station.FL]
cells = ["B1:1"]

[station.FR]
cells = ["B1:2"]

[station.RL]
cells = ["B1:3"]

[station.RR]
cells = ["B1:4"]
');
INSERT INTO board VALUES(1,'B1');
INSERT INTO held_calibration VALUES(1,'B1:1','660000,69849193,300000,0,200,100,160,300000,virtual masses');
INSERT INTO held_calibration VALUES(2,'B1:2','-299680,70200000,300000,0,200,100,160,300000,virtual masses');
INSERT INTO held_calibration VALUES(3,'B1:3','123360,-69500000,300000,0,200,100,160,300000,virtual masses');
INSERT INTO held_calibration VALUES(4,'B1:4','1542400,69100000,300000,0,200,100,160,300000,virtual masses');
INSERT INTO cause VALUES(1,'noise B1:1 11005000','noise of cell B1:1',11.0,'student-t','a longer window; nobody leaning, no wind');
INSERT INTO cause VALUES(2,'zero B1:1','zero of cell B1:1',9e999,'normal','take the zero again, longer');
INSERT INTO cause VALUES(3,'zero drift B1:1','zero drift of cell B1:1',9e999,'rectangular','take the zero again just before weighing');
INSERT INTO cause VALUES(4,'span B1:1','span of cell B1:1',9e999,'normal','calibrate with more readings or a larger mass');
INSERT INTO cause VALUES(5,'reference virtual masses','reference mass virtual masses',9e999,'normal','a better known mass; it does not matter for shares');
INSERT INTO cause VALUES(6,'cell error B1:1','non-linearity, hysteresis and creep of cell B1:1',9e999,'rectangular','cells of a better class or of smaller capacity');
INSERT INTO cause VALUES(7,'temperature B1:1','temperature of cell B1:1 since calibration',9e999,'rectangular','calibrate at the temperature of the weighing');
INSERT INTO cause VALUES(8,'noise B1:2 10925000','noise of cell B1:2',11.0,'student-t','a longer window; nobody leaning, no wind');
INSERT INTO cause VALUES(9,'zero B1:2','zero of cell B1:2',9e999,'normal','take the zero again, longer');
INSERT INTO cause VALUES(10,'zero drift B1:2','zero drift of cell B1:2',9e999,'rectangular','take the zero again just before weighing');
INSERT INTO cause VALUES(11,'span B1:2','span of cell B1:2',9e999,'normal','calibrate with more readings or a larger mass');
INSERT INTO cause VALUES(12,'cell error B1:2','non-linearity, hysteresis and creep of cell B1:2',9e999,'rectangular','cells of a better class or of smaller capacity');
INSERT INTO cause VALUES(13,'temperature B1:2','temperature of cell B1:2 since calibration',9e999,'rectangular','calibrate at the temperature of the weighing');
INSERT INTO cause VALUES(14,'noise B1:3 10930000','noise of cell B1:3',11.0,'student-t','a longer window; nobody leaning, no wind');
INSERT INTO cause VALUES(15,'zero B1:3','zero of cell B1:3',9e999,'normal','take the zero again, longer');
INSERT INTO cause VALUES(16,'zero drift B1:3','zero drift of cell B1:3',9e999,'rectangular','take the zero again just before weighing');
INSERT INTO cause VALUES(17,'span B1:3','span of cell B1:3',9e999,'normal','calibrate with more readings or a larger mass');
INSERT INTO cause VALUES(18,'cell error B1:3','non-linearity, hysteresis and creep of cell B1:3',9e999,'rectangular','cells of a better class or of smaller capacity');
INSERT INTO cause VALUES(19,'temperature B1:3','temperature of cell B1:3 since calibration',9e999,'rectangular','calibrate at the temperature of the weighing');
INSERT INTO cause VALUES(20,'noise B1:4 10987000','noise of cell B1:4',11.0,'student-t','a longer window; nobody leaning, no wind');
INSERT INTO cause VALUES(21,'zero B1:4','zero of cell B1:4',9e999,'normal','take the zero again, longer');
INSERT INTO cause VALUES(22,'zero drift B1:4','zero drift of cell B1:4',9e999,'rectangular','take the zero again just before weighing');
INSERT INTO cause VALUES(23,'span B1:4','span of cell B1:4',9e999,'normal','calibrate with more readings or a larger mass');
INSERT INTO cause VALUES(24,'cell error B1:4','non-linearity, hysteresis and creep of cell B1:4',9e999,'rectangular','cells of a better class or of smaller capacity');
INSERT INTO cause VALUES(25,'temperature B1:4','temperature of cell B1:4 since calibration',9e999,'rectangular','calibrate at the temperature of the weighing');
INSERT INTO cause VALUES(26,'resolution front-left','last digit of front-left',9e999,'rectangular','a scale that shows smaller steps');
INSERT INTO cause VALUES(27,'scale span the scale','span of the scale',9e999,'normal','compare the scale with a known mass');
INSERT INTO cause VALUES(28,'resolution front-right','last digit of front-right',9e999,'rectangular','a scale that shows smaller steps');
INSERT INTO cause VALUES(29,'resolution rear','last digit of rear',9e999,'rectangular','a scale that shows smaller steps');
INSERT INTO weighing VALUES(1,'all-at-once',1,1);
INSERT INTO weighing VALUES(2,'typed',1,2);
INSERT INTO weighing_board VALUES(1,0,1);
INSERT INTO weighing_condition VALUES(1,'driver','absent');
INSERT INTO weighing_condition VALUES(1,'fuel_l','12');
INSERT INTO weighing_result VALUES(1,0,'total_kg',4.38542800652848768555e+02,3.88614318186398910448e-01,1.95996398454005382738e+00);
INSERT INTO weighing_result VALUES(1,1,'front_share',4.71528157535857750382e-01,4.32609896092145938296e-04,1.95996398454005382738e+00);
INSERT INTO weighing_result VALUES(1,2,'left_share',5.07783985870857712541e-01,4.32139571376088428306e-04,1.95996398454005382738e+00);
INSERT INTO weighing_result VALUES(1,3,'cross_share',4.95257973127958217585e-01,4.3211583704814049596e-04,1.95996398454005382738e+00);
INSERT INTO weighing_result VALUES(1,4,'diagonal_difference_kg',-4.15916349047256517224e+00,3.78990590067103116922e-01,1.95996398454005382738e+00);
INSERT INTO weighing_result VALUES(1,5,'rear_left_minus_right_kg',1.33402921881187808139e+00,2.65728991521005764031e-01,1.93593430067110938708e+00);
INSERT INTO weighing_result VALUES(1,6,'cg_behind_front_axle_mm',1152.06861657183,1.81750800390002,1.95996398454005382738e+00);
INSERT INTO weighing_result VALUES(1,7,'cg_left_of_centre_mm',9.99571238842421294634e+00,5.51545270645698804123e-01,1.95996398454005382738e+00);
INSERT INTO weighing_result VALUES(2,0,'total_kg',489.0,1.97848049647859403066e+00,1.95996398454005382738e+00);
INSERT INTO weighing_result VALUES(2,1,'front_share',0.712678936605317,4.43946242547773391347e-04,1.83335473800536763455e+00);
INSERT INTO weighing_result VALUES(2,2,'left_share',NULL,NULL,NULL);
INSERT INTO weighing_result VALUES(2,3,'cross_share',NULL,NULL,NULL);
INSERT INTO weighing_result VALUES(2,4,'diagonal_difference_kg',NULL,NULL,NULL);
INSERT INTO weighing_result VALUES(2,5,'rear_left_minus_right_kg',NULL,NULL,NULL);
INSERT INTO weighing_result VALUES(2,6,'cg_behind_front_axle_mm',660.838445807771,2.5226315438113031675e+00,1.95996398454005382738e+00);
INSERT INTO weighing_result VALUES(2,7,'cg_left_of_centre_mm',8.64008179959099,2.33559075573634977729e+00,1.95996398454005382738e+00);
INSERT INTO weighing_load VALUES(1,0,'FL',1.06139235750868579091e+02);
INSERT INTO weighing_load VALUES(1,1,'FR',1.00646043041584164255e+02);
INSERT INTO weighing_load VALUES(1,2,'RL',1.16545775539603951647e+02);
INSERT INTO weighing_load VALUES(1,3,'RR',1.1521174632079207356e+02);
INSERT INTO weighing_load VALUES(2,0,'front-left',177.5);
INSERT INTO weighing_load VALUES(2,1,'front-right',171.0);
INSERT INTO weighing_load VALUES(2,2,'rear',140.5);
INSERT INTO weighing_contribution VALUES(1,0,0,1,1.93696046762623043033e-03);
INSERT INTO weighing_contribution VALUES(1,0,1,2,-6.98491930000000055961e-04);
INSERT INTO weighing_contribution VALUES(1,0,2,3,3.46410161513775530228e-02);
INSERT INTO weighing_contribution VALUES(1,0,3,4,2.12278471501737148185e-02);
INSERT INTO weighing_contribution VALUES(1,0,4,5,1.06139235750868574092e-02);
INSERT INTO weighing_contribution VALUES(1,0,5,6,8.66025403784438652099e-02);
INSERT INTO weighing_contribution VALUES(1,0,6,7,1.2255903266469027682e-02);
INSERT INTO weighing_contribution VALUES(1,1,0,8,1.94984802388728354662e-03);
INSERT INTO weighing_contribution VALUES(1,1,1,9,-7.01999999999999933081e-04);
INSERT INTO weighing_contribution VALUES(1,1,2,10,3.46410161513775530228e-02);
INSERT INTO weighing_contribution VALUES(1,1,3,11,2.01292086083168300647e-02);
INSERT INTO weighing_contribution VALUES(1,1,4,5,1.00646043041584150323e-02);
INSERT INTO weighing_contribution VALUES(1,1,5,12,8.66025403784438652099e-02);
INSERT INTO weighing_contribution VALUES(1,1,6,13,1.16216040085858566405e-02);
INSERT INTO weighing_contribution VALUES(1,2,0,14,-1.98879341658974835918e-03);
INSERT INTO weighing_contribution VALUES(1,2,1,15,0.000695);
INSERT INTO weighing_contribution VALUES(1,2,2,16,3.46410161513775530228e-02);
INSERT INTO weighing_contribution VALUES(1,2,3,17,2.330915510792078843e-02);
INSERT INTO weighing_contribution VALUES(1,2,4,5,1.1654577553960394215e-02);
INSERT INTO weighing_contribution VALUES(1,2,5,18,8.66025403784438652099e-02);
INSERT INTO weighing_contribution VALUES(1,2,6,19,1.34575469761408095942e-02);
INSERT INTO weighing_contribution VALUES(1,3,0,20,1.84235292910487659379e-03);
INSERT INTO weighing_contribution VALUES(1,3,1,21,-0.000691);
INSERT INTO weighing_contribution VALUES(1,3,2,22,3.46410161513775530228e-02);
INSERT INTO weighing_contribution VALUES(1,3,3,23,2.30423492641584140572e-02);
INSERT INTO weighing_contribution VALUES(1,3,4,5,1.15211746320792070286e-02);
INSERT INTO weighing_contribution VALUES(1,3,5,24,8.66025403784438652099e-02);
INSERT INTO weighing_contribution VALUES(1,3,6,25,1.3303506550423237903e-02);
INSERT INTO weighing_contribution VALUES(2,0,0,26,1.4433756729740646052e-01);
INSERT INTO weighing_contribution VALUES(2,0,1,27,0.355);
INSERT INTO weighing_contribution VALUES(2,1,0,28,1.4433756729740646052e-01);
INSERT INTO weighing_contribution VALUES(2,1,1,27,0.342);
INSERT INTO weighing_contribution VALUES(2,2,0,29,1.4433756729740646052e-01);
INSERT INTO weighing_contribution VALUES(2,2,1,27,0.281);
INSERT INTO typed_basis VALUES(2,NULL,0.5,1,0.002);
INSERT INTO typed_load VALUES(2,0,'front-left',177.5,0.1);
INSERT INTO typed_load VALUES(2,1,'front-right',171.0,1.0);
INSERT INTO typed_load VALUES(2,2,'rear',140.5,0.1);
INSERT INTO rig_basis VALUES(1,1,0.0005,0.0002,0.0002,0.001,2.0);
INSERT INTO cell_reading VALUES(1,0,'B1:1',NULL,1,'ok','settled',1560798.49,2.77306062451749504296e+01,11.0,4.99909367665154125148e+00,5.96378548041895101055e+02,100,0,11005000);
INSERT INTO cell_reading VALUES(1,1,'B1:2',NULL,2,'ok','settled',1.4149743168316832743e+06,2.77756128758872300466e+01,11.0,3.13516702047842743539e+00,6.21543280049515146868e+02,101,0,10925000);
INSERT INTO cell_reading VALUES(1,2,'B1:3',NULL,3,'ok','settled',-1.66920763366336631586e+06,2.86157326128021374236e+01,11.0,2.23626238743183414214e+00,6.44653399015768741259e+02,101,0,10930000);
INSERT INTO cell_reading VALUES(1,3,'B1:4',NULL,4,'ok','settled',1.76371904950495040978e+06,2.66621263256856231302e+01,11.0,-1.17287898503362342239e+00,6.32528683277570394219e+02,101,0,10987000);
CREATE INDEX record_by_time ON record (time_utc);
CREATE INDEX weighing_by_vehicle ON weighing (vehicle);
CREATE INDEX weighing_by_board ON weighing_board (board);
CREATE INDEX contribution_by_cause ON weighing_contribution (cause);
CREATE INDEX rig_by_layout ON rig_basis (layout);
CREATE INDEX reading_by_calibration ON cell_reading (calibration);
COMMIT;
