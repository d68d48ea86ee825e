-- A file of records as version 3 of its tables left it: what version 2 held, a floor, and a weighing that is not finished. Invented. Never changed.
PRAGMA application_id = 1179669059;
PRAGMA user_version = 3;
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
INSERT INTO record VALUES(1,'ngeq-wcax',X'ac1d7e315d6bc6ab6f6eb88620e087880cefb10199aaa112526833eff643f0e7','weighing','as built','2026-11-25T00:37:40.8763201Z','0.1.0');
INSERT INTO record VALUES(2,'sjbm-bqb1',X'cc9745dd61f50933bdcf72245458afe9d6f343e4abd9862bc78fd0730030d048','weighing','three scales','2026-11-25T00:37:42.0158946Z','0.1.0');
INSERT INTO record VALUES(3,'c7rv-h96c',X'61f1b8a4ccec100bfb215196d56b524acf35a0df9e532a56638fd83c858bb1bf','weighing','loose plug','2026-11-25T00:38:03.2730058Z','0.1.0');
INSERT INTO record VALUES(4,'k3hd-mhbp',X'98e2da4576816b46a150a716e6de0d2880d132d936b1facd415e76ed24206d15','calibration','cell 2 anew','2026-11-25T00:38:05.5496508Z','0.1.0');
INSERT INTO record VALUES(5,'38d9-mcpy',X'1a1a9a32de7f7e62f1bd539351d137343f1600e7498f7e4f7312fed1b1e93b1b','weighing','bathroom scales','2026-11-25T00:38:06.2044942Z','0.1.0');
INSERT INTO record VALUES(6,'7a8f-ar8f',X'3a90f5610fdcca189d728dc3d04bd06f70da2aaed03adb7cd12dd02bc00826cb','floor','garage, door end','2026-11-24T19:05:00.0000000Z','0.1.0');
CREATE TABLE vehicle (number INTEGER PRIMARY KEY, name TEXT NOT NULL, toml TEXT NOT NULL UNIQUE) STRICT;
INSERT INTO vehicle VALUES(1,'Wren',replace('# Lengths in mm, rates in N/mm. Behind the front axle line and left of the centre line count positive;\n# left is the driver''s left, ahead is negative.\nname = "Wren"\nwheelbase_mm = 2180  # hub to hub, mean of both sides\ntrack_front_mm = 1290  # middle of tyre to middle of tyre\ntrack_rear_mm = 1260\nwheel_radius_front_mm = 262  # wheel centre above ground, loaded\nwheel_radius_rear_mm = 276  # wheel centre above ground, loaded\ncg_height_mm = 315  # centre of gravity above ground\nchassis_torsion_nm_per_deg = 2600  # between the axles\n\n[wheel_rate_n_per_mm]  # force per mm of one wheel''s travel, springs only; inf: rigid\nfront = 21\nrear = 26\n\n[anti_roll_n_per_mm]  # force at each wheel per mm of left-right difference in wheel travel\nfront = 5\nrear = 0\n\n[tyre_rate_n_per_mm]  # vertical rate of one tyre\nfront = 165\nrear = 185\n\n[perch]\nspring_travel_per_wheel_travel_front = 0.8  # usually 0.5 to 1\nspring_travel_per_wheel_travel_rear = 0.75\nthread_pitch_mm = 2  # perch movement per turn\n\n[expected_kg]  # load at each corner, for checks of capacity\nFL = 105\nFR = 105\nRL = 115\nRR = 115\n\n[target]  # shares from 0 to 1\nfront_share = 0.47\ncross_share = 0.5\n\n[uncertainty]  # standard uncertainties (one sigma), in the unit of the key\nwheelbase_mm = 1.5\ntrack_front_mm = 2\ntrack_rear_mm = 2\n','\n',char(10)));
INSERT INTO vehicle VALUES(2,'Tern',replace('# Lengths in mm, rates in N/mm. Behind the front axle line and left of the centre line count positive;\n# left is the driver''s left, ahead is negative.\nname = "Tern"\nkind = "three-wheeler"  # car, kart, motorcycle, three-wheeler, sidecar, trailer, tandem-axle, single-axle or bare-chassis\n\n[wheel.front-left]\nbehind_front_axle_mm = 0\nleft_of_centre_mm = 650\n\n[wheel.front-right]\nbehind_front_axle_mm = 0\nleft_of_centre_mm = -650\n\n[wheel.rear]\nbehind_front_axle_mm = 2300\nleft_of_centre_mm = 0\n\n[uncertainty]  # standard uncertainties (one sigma), in the unit of the key\nwheel_position_mm = 2\n','\n',char(10)));
CREATE TABLE layout (number INTEGER PRIMARY KEY, toml TEXT NOT NULL UNIQUE) STRICT;
INSERT INTO layout VALUES(1,replace('# Which cells make which station. Cells are BOARD:CELL; masses in kg as the cells feel them, lengths in mm.\n\n[station.FL]\ncells = ["B1:1"]\n\n[station.FR]\ncells = ["B1:2"]\n\n[station.RL]\ncells = ["B1:3"]\n\n[station.RR]\ncells = ["B1:4"]\n','\n',char(10)));
CREATE TABLE board (number INTEGER PRIMARY KEY, name TEXT NOT NULL UNIQUE) STRICT;
INSERT INTO board VALUES(1,'B1');
CREATE TABLE held_calibration (
  number INTEGER PRIMARY KEY,
  cell TEXT NOT NULL,
  held TEXT NOT NULL,
  UNIQUE (cell, held)
) STRICT;
INSERT INTO held_calibration VALUES(1,'B1:1','660000,69849193,300000,0,200,100,160,300000,virtual masses');
INSERT INTO held_calibration VALUES(2,'B1:2','-299680,70200000,300000,0,200,100,160,300000,virtual masses');
INSERT INTO held_calibration VALUES(3,'B1:3','123360,-69500000,300000,0,200,100,160,300000,virtual masses');
INSERT INTO held_calibration VALUES(4,'B1:4','1542400,69100000,300000,0,200,100,160,300000,virtual masses');
INSERT INTO held_calibration VALUES(5,'B1:2','659546,69859437,300000,20261125,109,1000,739,60000,stored readings');
CREATE TABLE cause (
  number INTEGER PRIMARY KEY,
  key TEXT NOT NULL,
  name TEXT NOT NULL,
  degrees_of_freedom REAL NOT NULL,
  shape TEXT NOT NULL,
  remedy TEXT NOT NULL,
  UNIQUE (key, name, degrees_of_freedom, shape, remedy)
) STRICT;
INSERT INTO cause VALUES(1,'noise B1:1 11005000','noise of cell B1:1',11.0,'student-t','a longer window; nobody leaning, no wind');
INSERT INTO cause VALUES(2,'zero B1:1','zero of cell B1:1',1e999,'normal','take the zero again, longer');
INSERT INTO cause VALUES(3,'zero drift B1:1','zero drift of cell B1:1',1e999,'rectangular','take the zero again just before weighing');
INSERT INTO cause VALUES(4,'span B1:1','span of cell B1:1',1e999,'normal','calibrate with more readings or a larger mass');
INSERT INTO cause VALUES(5,'reference virtual masses','reference mass virtual masses',1e999,'normal','a better known mass; it does not matter for shares');
INSERT INTO cause VALUES(6,'cell error B1:1','non-linearity, hysteresis and creep of cell B1:1',1e999,'rectangular','cells of a better class or of smaller capacity');
INSERT INTO cause VALUES(7,'temperature B1:1','temperature of cell B1:1 since calibration',1e999,'rectangular','calibrate at the temperature of the weighing');
INSERT INTO cause VALUES(8,'noise B1:2 10925000','noise of cell B1:2',11.0,'student-t','a longer window; nobody leaning, no wind');
INSERT INTO cause VALUES(9,'zero B1:2','zero of cell B1:2',1e999,'normal','take the zero again, longer');
INSERT INTO cause VALUES(10,'zero drift B1:2','zero drift of cell B1:2',1e999,'rectangular','take the zero again just before weighing');
INSERT INTO cause VALUES(11,'span B1:2','span of cell B1:2',1e999,'normal','calibrate with more readings or a larger mass');
INSERT INTO cause VALUES(12,'cell error B1:2','non-linearity, hysteresis and creep of cell B1:2',1e999,'rectangular','cells of a better class or of smaller capacity');
INSERT INTO cause VALUES(13,'temperature B1:2','temperature of cell B1:2 since calibration',1e999,'rectangular','calibrate at the temperature of the weighing');
INSERT INTO cause VALUES(14,'noise B1:3 10930000','noise of cell B1:3',11.0,'student-t','a longer window; nobody leaning, no wind');
INSERT INTO cause VALUES(15,'zero B1:3','zero of cell B1:3',1e999,'normal','take the zero again, longer');
INSERT INTO cause VALUES(16,'zero drift B1:3','zero drift of cell B1:3',1e999,'rectangular','take the zero again just before weighing');
INSERT INTO cause VALUES(17,'span B1:3','span of cell B1:3',1e999,'normal','calibrate with more readings or a larger mass');
INSERT INTO cause VALUES(18,'cell error B1:3','non-linearity, hysteresis and creep of cell B1:3',1e999,'rectangular','cells of a better class or of smaller capacity');
INSERT INTO cause VALUES(19,'temperature B1:3','temperature of cell B1:3 since calibration',1e999,'rectangular','calibrate at the temperature of the weighing');
INSERT INTO cause VALUES(20,'noise B1:4 10987000','noise of cell B1:4',11.0,'student-t','a longer window; nobody leaning, no wind');
INSERT INTO cause VALUES(21,'zero B1:4','zero of cell B1:4',1e999,'normal','take the zero again, longer');
INSERT INTO cause VALUES(22,'zero drift B1:4','zero drift of cell B1:4',1e999,'rectangular','take the zero again just before weighing');
INSERT INTO cause VALUES(23,'span B1:4','span of cell B1:4',1e999,'normal','calibrate with more readings or a larger mass');
INSERT INTO cause VALUES(24,'cell error B1:4','non-linearity, hysteresis and creep of cell B1:4',1e999,'rectangular','cells of a better class or of smaller capacity');
INSERT INTO cause VALUES(25,'temperature B1:4','temperature of cell B1:4 since calibration',1e999,'rectangular','calibrate at the temperature of the weighing');
INSERT INTO cause VALUES(26,'resolution front-left','last digit of front-left',1e999,'rectangular','a scale that shows smaller steps');
INSERT INTO cause VALUES(27,'scale span the scale','span of the scale',1e999,'normal','compare the scale with a known mass');
INSERT INTO cause VALUES(28,'resolution front-right','last digit of front-right',1e999,'rectangular','a scale that shows smaller steps');
INSERT INTO cause VALUES(29,'resolution rear','last digit of rear',1e999,'rectangular','a scale that shows smaller steps');
INSERT INTO cause VALUES(30,'noise B1:1 19911000','noise of cell B1:1',6.0,'student-t','a longer window; nobody leaning, no wind');
INSERT INTO cause VALUES(31,'noise B1:2 19911000','noise of cell B1:2',6.0,'student-t','a longer window; nobody leaning, no wind');
INSERT INTO cause VALUES(32,'noise B1:3 19926000','noise of cell B1:3',6.0,'student-t','a longer window; nobody leaning, no wind');
INSERT INTO cause VALUES(33,'noise B1:4 19983000','noise of cell B1:4',6.0,'student-t','a longer window; nobody leaning, no wind');
INSERT INTO cause VALUES(34,'scale FL','scale under FL',1e999,'normal','a better scale');
INSERT INTO cause VALUES(35,'scale FR','scale under FR',1e999,'normal','a better scale');
INSERT INTO cause VALUES(36,'scale RL','scale under RL',1e999,'normal','a better scale');
INSERT INTO cause VALUES(37,'scale RR','scale under RR',1e999,'normal','a better scale');
CREATE TABLE weighing (
  record INTEGER PRIMARY KEY REFERENCES record ON DELETE CASCADE,
  method TEXT NOT NULL,
  acceptable INTEGER NOT NULL,
  vehicle INTEGER NOT NULL REFERENCES vehicle
, kept_because TEXT) STRICT;
INSERT INTO weighing VALUES(1,'all-at-once',1,1,NULL);
INSERT INTO weighing VALUES(2,'typed',1,2,NULL);
INSERT INTO weighing VALUES(3,'all-at-once',0,1,'the plug of cell 3 is being mended');
INSERT INTO weighing VALUES(5,'typed',1,1,NULL);
CREATE TABLE weighing_board (
  weighing INTEGER NOT NULL REFERENCES weighing ON DELETE CASCADE,
  place INTEGER NOT NULL,
  board INTEGER NOT NULL REFERENCES board,
  PRIMARY KEY (weighing, place)
) STRICT, WITHOUT ROWID;
INSERT INTO weighing_board VALUES(1,0,1);
INSERT INTO weighing_board VALUES(3,0,1);
CREATE TABLE weighing_condition (
  weighing INTEGER NOT NULL REFERENCES weighing ON DELETE CASCADE,
  name TEXT NOT NULL,
  value TEXT NOT NULL,
  PRIMARY KEY (weighing, name)
) STRICT, WITHOUT ROWID;
INSERT INTO weighing_condition VALUES(1,'driver','absent');
INSERT INTO weighing_condition VALUES(1,'fuel_l','12');
CREATE TABLE weighing_reason (
  weighing INTEGER NOT NULL REFERENCES weighing ON DELETE CASCADE,
  place INTEGER NOT NULL,
  code TEXT NOT NULL,
  corner TEXT,
  text TEXT NOT NULL,
  PRIMARY KEY (weighing, place)
) STRICT, WITHOUT ROWID;
INSERT INTO weighing_reason VALUES(3,0,'not-settled','FL','FL: the load on cell B1:1 is still moving; wait, or find what moves it');
INSERT INTO weighing_reason VALUES(3,1,'not-settled','FR','FR: the load on cell B1:2 is still moving; wait, or find what moves it');
INSERT INTO weighing_reason VALUES(3,2,'not-settled','RL','RL: the load on cell B1:3 is still moving; wait, or find what moves it');
INSERT INTO weighing_reason VALUES(3,3,'not-settled','RR','RR: the load on cell B1:4 is still moving; wait, or find what moves it');
CREATE TABLE weighing_result (
  weighing INTEGER NOT NULL REFERENCES weighing ON DELETE CASCADE,
  place INTEGER NOT NULL,
  name TEXT NOT NULL,
  value REAL,
  expanded REAL,
  k REAL,
  PRIMARY KEY (weighing, place)
) STRICT, WITHOUT ROWID;
INSERT INTO weighing_result VALUES(1,0,'total_kg',438.54280065284876855,0.38861431818639891044,1.9599639845400538273);
INSERT INTO weighing_result VALUES(1,1,'front_share',0.47152815753585775038,0.00043260989609214593829,1.9599639845400538273);
INSERT INTO weighing_result VALUES(1,2,'left_share',0.50778398587085771254,0.0004321395713760884283,1.9599639845400538273);
INSERT INTO weighing_result VALUES(1,3,'cross_share',0.49525797312795821758,0.00043211583704814049596,1.9599639845400538273);
INSERT INTO weighing_result VALUES(1,4,'diagonal_difference_kg',-4.1591634904725651722,0.37899059006710311692,1.9599639845400538273);
INSERT INTO weighing_result VALUES(1,5,'rear_left_minus_right_kg',1.3340292188118780813,0.26572899152100576403,1.935934300671109387);
INSERT INTO weighing_result VALUES(1,6,'cg_behind_front_axle_mm',1152.0686165718300344,1.817508003900019986,1.9599639845400538273);
INSERT INTO weighing_result VALUES(1,7,'cg_left_of_centre_mm',9.9957123884242129463,0.55154527064569880412,1.9599639845400538273);
INSERT INTO weighing_result VALUES(2,0,'total_kg',489.0,1.9784804964785940306,1.9599639845400538273);
INSERT INTO weighing_result VALUES(2,1,'front_share',0.71267893660531700383,0.00044394624254777339134,1.8333547380053676345);
INSERT INTO weighing_result VALUES(2,2,'left_share',NULL,NULL,NULL);
INSERT INTO weighing_result VALUES(2,3,'cross_share',NULL,NULL,NULL);
INSERT INTO weighing_result VALUES(2,4,'diagonal_difference_kg',NULL,NULL,NULL);
INSERT INTO weighing_result VALUES(2,5,'rear_left_minus_right_kg',NULL,NULL,NULL);
INSERT INTO weighing_result VALUES(2,6,'cg_behind_front_axle_mm',660.83844580777099508,2.5226315438113031675,1.9599639845400538273);
INSERT INTO weighing_result VALUES(2,7,'cg_left_of_centre_mm',8.6400817995909893198,2.3355907557363497772,1.9599639845400538273);
INSERT INTO weighing_result VALUES(3,0,'total_kg',438.54612446201031161,0.38927594457411068828,1.9599639845400538273);
INSERT INTO weighing_result VALUES(3,1,'front_share',0.47152713538261625814,0.0004334052596333473617,1.9599639845400538273);
INSERT INTO weighing_result VALUES(3,2,'left_share',0.50778638861430824835,0.00043290544889982245481,1.9599639845400538273);
INSERT INTO weighing_result VALUES(3,3,'cross_share',0.49525636158235258887,0.00043288369386279058372,1.9599639845400538273);
INSERT INTO weighing_result VALUES(3,4,'diagonal_difference_kg',-4.1606084878168019258,0.37966884064495548534,1.9599639845400538273);
INSERT INTO weighing_result VALUES(3,5,'rear_left_minus_right_kg',1.3343863064516057193,0.26609493608130274644,1.9360890871902507459);
INSERT INTO weighing_result VALUES(3,6,'cg_behind_front_axle_mm',1152.0708448658967881,1.8184108777692939984,1.9599639845400538273);
INSERT INTO weighing_result VALUES(3,7,'cg_left_of_centre_mm',9.9988000595077135557,0.55252742014782307844,1.9599639845400538273);
INSERT INTO weighing_result VALUES(5,0,'total_kg',438.0,1.9599639845400538273,1.9599639845400538273);
INSERT INTO weighing_result VALUES(5,1,'front_share',0.47260273972602739878,0.0022407581232052101692,1.9599639845400538273);
INSERT INTO weighing_result VALUES(5,2,'left_share',0.50684931506849317806,0.0022376117259735265468,1.9599639845400538273);
INSERT INTO weighing_result VALUES(5,3,'cross_share',0.49543378995433789979,0.0022374951077727446568,1.9599639845400538273);
INSERT INTO weighing_result VALUES(5,4,'diagonal_difference_kg',-4.0,1.9599639845400538273,1.9599639845400538273);
INSERT INTO weighing_result VALUES(5,5,'rear_left_minus_right_kg',1.0,1.3859038243496777376,1.9599639845400538273);
INSERT INTO weighing_result VALUES(5,6,'cg_behind_front_axle_mm',1149.726027397260168,5.1250264936239018354,1.9599639845400538273);
INSERT INTO weighing_result VALUES(5,7,'cg_left_of_centre_mm',8.8013698630136989464,2.8532477918191436749,1.9599639845400538273);
CREATE TABLE weighing_load (
  weighing INTEGER NOT NULL REFERENCES weighing ON DELETE CASCADE,
  place INTEGER NOT NULL,
  station TEXT NOT NULL,
  load_kg REAL,
  PRIMARY KEY (weighing, place)
) STRICT, WITHOUT ROWID;
INSERT INTO weighing_load VALUES(1,0,'FL',106.13923575086857909);
INSERT INTO weighing_load VALUES(1,1,'FR',100.64604304158416425);
INSERT INTO weighing_load VALUES(1,2,'RL',116.54577553960395164);
INSERT INTO weighing_load VALUES(1,3,'RR',115.21174632079207356);
INSERT INTO weighing_load VALUES(2,0,'front-left',177.5);
INSERT INTO weighing_load VALUES(2,1,'front-right',171.0);
INSERT INTO weighing_load VALUES(2,2,'rear',140.49999999999999999);
INSERT INTO weighing_load VALUES(3,0,'FL',106.14069629749420187);
INSERT INTO weighing_load VALUES(3,1,'FR',100.64570150322580844);
INSERT INTO weighing_load VALUES(3,2,'RL',116.54705648387096062);
INSERT INTO weighing_load VALUES(3,3,'RR',115.2126701774193549);
INSERT INTO weighing_load VALUES(5,0,'FL',106.0);
INSERT INTO weighing_load VALUES(5,1,'FR',101.0);
INSERT INTO weighing_load VALUES(5,2,'RL',116.0);
INSERT INTO weighing_load VALUES(5,3,'RR',115.0);
CREATE TABLE weighing_contribution (
  weighing INTEGER NOT NULL,
  load INTEGER NOT NULL,
  place INTEGER NOT NULL,
  cause INTEGER NOT NULL REFERENCES cause,
  amount_kg REAL NOT NULL,
  PRIMARY KEY (weighing, load, place),
  FOREIGN KEY (weighing, load) REFERENCES weighing_load ON DELETE CASCADE
) STRICT, WITHOUT ROWID;
INSERT INTO weighing_contribution VALUES(1,0,0,1,0.0019369604676262304303);
INSERT INTO weighing_contribution VALUES(1,0,1,2,-0.00069849193000000005596);
INSERT INTO weighing_contribution VALUES(1,0,2,3,0.034641016151377553022);
INSERT INTO weighing_contribution VALUES(1,0,3,4,0.021227847150173714818);
INSERT INTO weighing_contribution VALUES(1,0,4,5,0.010613923575086857409);
INSERT INTO weighing_contribution VALUES(1,0,5,6,0.086602540378443865209);
INSERT INTO weighing_contribution VALUES(1,0,6,7,0.012255903266469027682);
INSERT INTO weighing_contribution VALUES(1,1,0,8,0.0019498480238872835466);
INSERT INTO weighing_contribution VALUES(1,1,1,9,-0.00070199999999999993308);
INSERT INTO weighing_contribution VALUES(1,1,2,10,0.034641016151377553022);
INSERT INTO weighing_contribution VALUES(1,1,3,11,0.020129208608316830064);
INSERT INTO weighing_contribution VALUES(1,1,4,5,0.010064604304158415032);
INSERT INTO weighing_contribution VALUES(1,1,5,12,0.086602540378443865209);
INSERT INTO weighing_contribution VALUES(1,1,6,13,0.01162160400858585664);
INSERT INTO weighing_contribution VALUES(1,2,0,14,-0.0019887934165897483591);
INSERT INTO weighing_contribution VALUES(1,2,1,15,0.00069499999999999997977);
INSERT INTO weighing_contribution VALUES(1,2,2,16,0.034641016151377553022);
INSERT INTO weighing_contribution VALUES(1,2,3,17,0.02330915510792078843);
INSERT INTO weighing_contribution VALUES(1,2,4,5,0.011654577553960394215);
INSERT INTO weighing_contribution VALUES(1,2,5,18,0.086602540378443865209);
INSERT INTO weighing_contribution VALUES(1,2,6,19,0.013457546976140809594);
INSERT INTO weighing_contribution VALUES(1,3,0,20,0.0018423529291048765937);
INSERT INTO weighing_contribution VALUES(1,3,1,21,-0.00069099999999999999096);
INSERT INTO weighing_contribution VALUES(1,3,2,22,0.034641016151377553022);
INSERT INTO weighing_contribution VALUES(1,3,3,23,0.023042349264158414057);
INSERT INTO weighing_contribution VALUES(1,3,4,5,0.011521174632079207028);
INSERT INTO weighing_contribution VALUES(1,3,5,24,0.086602540378443865209);
INSERT INTO weighing_contribution VALUES(1,3,6,25,0.013303506550423237903);
INSERT INTO weighing_contribution VALUES(2,0,0,26,0.14433756729740646052);
INSERT INTO weighing_contribution VALUES(2,0,1,27,0.35499999999999998223);
INSERT INTO weighing_contribution VALUES(2,1,0,28,0.14433756729740646052);
INSERT INTO weighing_contribution VALUES(2,1,1,27,0.3420000000000000262);
INSERT INTO weighing_contribution VALUES(2,2,0,29,0.14433756729740646052);
INSERT INTO weighing_contribution VALUES(2,2,1,27,0.28100000000000002753);
INSERT INTO weighing_contribution VALUES(3,0,0,30,0.00756929628039403838);
INSERT INTO weighing_contribution VALUES(3,0,1,2,-0.00069849193000000005596);
INSERT INTO weighing_contribution VALUES(3,0,2,3,0.034641016151377553022);
INSERT INTO weighing_contribution VALUES(3,0,3,4,0.021228139259498839119);
INSERT INTO weighing_contribution VALUES(3,0,4,5,0.010614069629749419559);
INSERT INTO weighing_contribution VALUES(3,0,5,6,0.086602540378443865209);
INSERT INTO weighing_contribution VALUES(3,0,6,7,0.012256071915866520102);
INSERT INTO weighing_contribution VALUES(3,1,0,31,0.0059404220333334045028);
INSERT INTO weighing_contribution VALUES(3,1,1,9,-0.00070199999999999993308);
INSERT INTO weighing_contribution VALUES(3,1,2,10,0.034641016151377553022);
INSERT INTO weighing_contribution VALUES(3,1,3,11,0.02012914030064516177);
INSERT INTO weighing_contribution VALUES(3,1,4,5,0.010064570150322580885);
INSERT INTO weighing_contribution VALUES(3,1,5,12,0.086602540378443865209);
INSERT INTO weighing_contribution VALUES(3,1,6,13,0.011621564571133230145);
INSERT INTO weighing_contribution VALUES(3,2,0,32,-0.0054124801561466267738);
INSERT INTO weighing_contribution VALUES(3,2,1,15,0.00069499999999999997977);
INSERT INTO weighing_contribution VALUES(3,2,2,16,0.034641016151377553022);
INSERT INTO weighing_contribution VALUES(3,2,3,17,0.023309411296774190658);
INSERT INTO weighing_contribution VALUES(3,2,4,5,0.011654705648387095329);
INSERT INTO weighing_contribution VALUES(3,2,5,18,0.086602540378443865209);
INSERT INTO weighing_contribution VALUES(3,2,6,19,0.01345769488684428472);
INSERT INTO weighing_contribution VALUES(3,3,0,33,0.0051898595671068005474);
INSERT INTO weighing_contribution VALUES(3,3,1,21,-0.00069099999999999999096);
INSERT INTO weighing_contribution VALUES(3,3,2,22,0.034641016151377553022);
INSERT INTO weighing_contribution VALUES(3,3,3,23,0.023042534035483869248);
INSERT INTO weighing_contribution VALUES(3,3,4,5,0.011521267017741934624);
INSERT INTO weighing_contribution VALUES(3,3,5,24,0.086602540378443865209);
INSERT INTO weighing_contribution VALUES(3,3,6,25,0.013303613228197728665);
INSERT INTO weighing_contribution VALUES(5,0,0,34,0.5);
INSERT INTO weighing_contribution VALUES(5,1,0,35,0.5);
INSERT INTO weighing_contribution VALUES(5,2,0,36,0.5);
INSERT INTO weighing_contribution VALUES(5,3,0,37,0.5);
CREATE TABLE typed_basis (
  weighing INTEGER PRIMARY KEY REFERENCES weighing ON DELETE CASCADE,
  u_corner_kg REAL,
  resolution_kg REAL,
  same_scale INTEGER NOT NULL,
  u_span_share REAL
) STRICT;
INSERT INTO typed_basis VALUES(2,NULL,0.5,1,0.0020000000000000000416);
INSERT INTO typed_basis VALUES(5,0.5,NULL,0,NULL);
CREATE TABLE typed_load (
  weighing INTEGER NOT NULL REFERENCES typed_basis ON DELETE CASCADE,
  place INTEGER NOT NULL,
  station TEXT NOT NULL,
  load_kg REAL NOT NULL,
  last_digit_kg REAL NOT NULL,
  PRIMARY KEY (weighing, place)
) STRICT, WITHOUT ROWID;
INSERT INTO typed_load VALUES(2,0,'front-left',177.5,0.10000000000000000555);
INSERT INTO typed_load VALUES(2,1,'front-right',171.0,1.0);
INSERT INTO typed_load VALUES(2,2,'rear',140.49999999999999999,0.10000000000000000555);
INSERT INTO typed_load VALUES(5,0,'FL',106.0,1.0);
INSERT INTO typed_load VALUES(5,1,'FR',101.0,1.0);
INSERT INTO typed_load VALUES(5,2,'RL',116.0,1.0);
INSERT INTO typed_load VALUES(5,3,'RR',115.0,1.0);
CREATE TABLE rig_basis (
  weighing INTEGER PRIMARY KEY REFERENCES weighing ON DELETE CASCADE,
  layout INTEGER NOT NULL REFERENCES layout,
  error_share_of_capacity REAL NOT NULL,
  zero_drift_share_of_capacity REAL NOT NULL,
  temperature_share_of_load REAL NOT NULL,
  extrapolation_share_of_excess REAL NOT NULL,
  capacity_of_load REAL NOT NULL
) STRICT;
INSERT INTO rig_basis VALUES(1,1,0.0005000000000000000104,0.00020000000000000000958,0.00020000000000000000958,0.0010000000000000000208,2.0);
INSERT INTO rig_basis VALUES(3,1,0.0005000000000000000104,0.00020000000000000000958,0.00020000000000000000958,0.0010000000000000000208,2.0);
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
INSERT INTO cell_reading VALUES(1,0,'B1:1',NULL,1,'ok','settled',1560798.4899999999907,27.730606245174950429,11.0,4.9990936766515412514,596.37854804189510105,100,0,11005000);
INSERT INTO cell_reading VALUES(1,1,'B1:2',NULL,2,'ok','settled',1414974.3168316832743,27.775612875887230046,11.0,3.1351670204784274353,621.54328004951514686,101,0,10925000);
INSERT INTO cell_reading VALUES(1,2,'B1:3',NULL,3,'ok','settled',-1669207.6336633663158,28.615732612802137423,11.0,2.2362623874318341421,644.65339901576874125,101,0,10930000);
INSERT INTO cell_reading VALUES(1,3,'B1:4',NULL,4,'ok','settled',1763719.0495049504097,26.66212632568562313,11.0,-1.1728789850336234223,632.52868327757039421,101,0,10987000);
INSERT INTO cell_reading VALUES(3,0,'B1:1',NULL,1,'ok','moving',1560819.3999999999068,108.36626674260986647,6.0,29.095987240511902882,638.16657580326716469,30,0,19911000);
INSERT INTO cell_reading VALUES(3,1,'B1:2',NULL,2,'ok','moving',1414969.4516129032709,84.621396486230835874,6.0,30.295693792444907898,615.23516043833205912,31,0,19911000);
INSERT INTO cell_reading VALUES(3,2,'B1:3',NULL,3,'ok','moving',-1669226.0645161289722,77.877412318656510591,6.0,23.007841226662737454,600.1518298389398751,31,0,19926000);
INSERT INTO cell_reading VALUES(3,3,'B1:4',NULL,4,'ok','moving',1763732.4193548387847,75.106506036277863812,6.0,35.906824167843758744,645.94488823987921931,31,0,19983000);
CREATE TABLE calibration (
  record INTEGER PRIMARY KEY REFERENCES record ON DELETE CASCADE,
  cell TEXT NOT NULL,
  date TEXT NOT NULL,
  capacity_kg REAL,
  label_mv_per_v REAL,
  expected_load_kg REAL,
  held INTEGER REFERENCES held_calibration,
  zero_counts REAL,
  u_zero_counts REAL,
  kg_per_count REAL,
  u_kg_per_count REAL
) STRICT;
INSERT INTO calibration VALUES(4,'B1:2','2026-11-25',300.0,NULL,NULL,5,41221.633333333302291,46.16493651026209477,6.9859436991154033646e-05,7.0271069292452173751e-08);
CREATE TABLE calibration_point (
  calibration INTEGER NOT NULL REFERENCES calibration ON DELETE CASCADE,
  place INTEGER NOT NULL,
  load_kg REAL NOT NULL,
  counts REAL NOT NULL,
  u_counts REAL,
  direction TEXT NOT NULL,
  u_load_kg REAL NOT NULL,
  reference TEXT NOT NULL,
  settled INTEGER NOT NULL,
  PRIMARY KEY (calibration, place)
) STRICT, WITHOUT ROWID;
INSERT INTO calibration_point VALUES(4,0,0.0,41250.500000000000001,NULL,'up',0.0,'',1);
INSERT INTO calibration_point VALUES(4,1,20.0,327462.25,NULL,'up',0.020000000000000000416,'stored readings',1);
INSERT INTO calibration_point VALUES(4,2,60.0,900118.75000000000001,NULL,'up',0.059999999999999997779,'stored readings',1);
INSERT INTO calibration_point VALUES(4,3,20.0,327470.49999999999999,NULL,'down',0.020000000000000000416,'stored readings',1);
INSERT INTO calibration_point VALUES(4,4,0.0,41252.0,NULL,'down',0.0,'',1);
CREATE TABLE document (
  record INTEGER PRIMARY KEY REFERENCES record ON DELETE CASCADE,
  subject TEXT NOT NULL,
  acceptable INTEGER NOT NULL,
  inputs TEXT NOT NULL,
  answer TEXT NOT NULL
) STRICT;
INSERT INTO document VALUES(6,'Plain',1,'{"below_laser_mm":{"FL":812.5,"FR":815,"RL":809,"RR":811.5}}','{"schema":"fourpatch.floor/1","software_version":"0.1.0","twist_mm":-0.03}');
CREATE TABLE unfinished (
  key TEXT PRIMARY KEY,
  started_utc TEXT NOT NULL,
  updated_utc TEXT NOT NULL,
  state TEXT NOT NULL
) STRICT, WITHOUT ROWID;
INSERT INTO unfinished VALUES('weigh one-by-one Plain','2026-11-24T19:05:00.0000000Z','2026-11-24T19:05:00.0000000Z','{"FL":116.4}');
CREATE INDEX record_by_time ON record (time_utc);
CREATE INDEX weighing_by_vehicle ON weighing (vehicle);
CREATE INDEX weighing_by_board ON weighing_board (board);
CREATE INDEX contribution_by_cause ON weighing_contribution (cause);
CREATE INDEX rig_by_layout ON rig_basis (layout);
CREATE INDEX reading_by_calibration ON cell_reading (calibration);
CREATE INDEX calibration_by_held ON calibration (held);
CREATE INDEX record_by_name ON record (name COLLATE NOCASE, kind, time_utc);
COMMIT;
