-- A file of records as version 4 of its tables left it: what version 3 held, and weighings with wheels raised: one dolly by figures and by cells, two pads. Invented. Never changed.
PRAGMA application_id = 1179669059;
PRAGMA user_version = 4;
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
INSERT INTO record VALUES(7,'rj6e-jk0x',X'c48ce94c1da3a59250399f60305ecac224d9c8b86932ca3439feab747e3e57b9','weighing','corner by corner','2026-11-24T19:05:00.0000000Z','0.1.0');
INSERT INTO record VALUES(8,'b9qs-fmt2',X'5a6f97d342d50312a1b1d7ce9aeaf0927c923c66b1325e5e0ec7cf24fe07805c','weighing','two corners','2026-11-24T19:06:00.0000000Z','0.1.0');
INSERT INTO record VALUES(9,'nmfn-5gxx',X'ad1f52c3bdd662dbb4491ed2b681f485292f06706842ae9fc1c5a6ebd9d4773f','weighing','two pads','2026-11-24T19:07:00.0000000Z','0.1.0');
CREATE TABLE vehicle (number INTEGER PRIMARY KEY, name TEXT NOT NULL, toml TEXT NOT NULL UNIQUE) STRICT;
INSERT INTO vehicle VALUES(1,'Wren',replace('# Lengths in mm, rates in N/mm. Behind the front axle line and left of the centre line count positive;\n# left is the driver''s left, ahead is negative.\nname = "Wren"\nwheelbase_mm = 2180  # hub to hub, mean of both sides\ntrack_front_mm = 1290  # middle of tyre to middle of tyre\ntrack_rear_mm = 1260\nwheel_radius_front_mm = 262  # wheel centre above ground, loaded\nwheel_radius_rear_mm = 276  # wheel centre above ground, loaded\ncg_height_mm = 315  # centre of gravity above ground\nchassis_torsion_nm_per_deg = 2600  # between the axles\n\n[wheel_rate_n_per_mm]  # force per mm of one wheel''s travel, springs only; inf: rigid\nfront = 21\nrear = 26\n\n[anti_roll_n_per_mm]  # force at each wheel per mm of left-right difference in wheel travel\nfront = 5\nrear = 0\n\n[tyre_rate_n_per_mm]  # vertical rate of one tyre\nfront = 165\nrear = 185\n\n[perch]\nspring_travel_per_wheel_travel_front = 0.8  # usually 0.5 to 1\nspring_travel_per_wheel_travel_rear = 0.75\nthread_pitch_mm = 2  # perch movement per turn\n\n[expected_kg]  # load at each corner, for checks of capacity\nFL = 105\nFR = 105\nRL = 115\nRR = 115\n\n[target]  # shares from 0 to 1\nfront_share = 0.47\ncross_share = 0.5\n\n[uncertainty]  # standard uncertainties (one sigma), in the unit of the key\nwheelbase_mm = 1.5\ntrack_front_mm = 2\ntrack_rear_mm = 2\n','\n',char(10)));
INSERT INTO vehicle VALUES(2,'Tern',replace('# Lengths in mm, rates in N/mm. Behind the front axle line and left of the centre line count positive;\n# left is the driver''s left, ahead is negative.\nname = "Tern"\nkind = "three-wheeler"  # car, kart, motorcycle, three-wheeler, sidecar, trailer, tandem-axle, single-axle or bare-chassis\n\n[wheel.front-left]\nbehind_front_axle_mm = 0\nleft_of_centre_mm = 650\n\n[wheel.front-right]\nbehind_front_axle_mm = 0\nleft_of_centre_mm = -650\n\n[wheel.rear]\nbehind_front_axle_mm = 2300\nleft_of_centre_mm = 0\n\n[uncertainty]  # standard uncertainties (one sigma), in the unit of the key\nwheel_position_mm = 2\n','\n',char(10)));
INSERT INTO vehicle VALUES(3,'Plain',replace('# Lengths in mm, rates in N/mm. Behind the front axle line and left of the centre line count positive;\n# left is the driver''s left, ahead is negative.\nname = "Plain"\nwheelbase_mm = 2600  # hub to hub, mean of both sides\ntrack_front_mm = 1500  # middle of tyre to middle of tyre\ntrack_rear_mm = 1480\n\n[uncertainty]  # standard uncertainties (one sigma), in the unit of the key\nwheelbase_mm = 1.5\ntrack_front_mm = 2\n','\n',char(10)));
CREATE TABLE layout (number INTEGER PRIMARY KEY, toml TEXT NOT NULL UNIQUE) STRICT;
INSERT INTO layout VALUES(1,replace('# Which cells make which station. Cells are BOARD:CELL; masses in kg as the cells feel them, lengths in mm.\n\n[station.FL]\ncells = ["B1:1"]\n\n[station.FR]\ncells = ["B1:2"]\n\n[station.RL]\ncells = ["B1:3"]\n\n[station.RR]\ncells = ["B1:4"]\n','\n',char(10)));
INSERT INTO layout VALUES(2,replace('# Which cells make which station. Cells are BOARD:CELL; masses in kg as the cells feel them, lengths in mm.\n\n[dolly.dolly]\ncells = ["B1:1", "B1:2", "B1:3", "B1:4"]\ntare_kg = 12  # the empty dolly\nwheel_centre_rise_mm = 50  # how far it lifts the wheel centre\n','\n',char(10)));
INSERT INTO layout VALUES(3,replace('# Which cells make which station. Cells are BOARD:CELL; masses in kg as the cells feel them, lengths in mm.\n\n[station.FL]\ncells = ["B1:1"]\n\n[station.FR]\ncells = ["B1:2"]\n','\n',char(10)));
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
INSERT INTO held_calibration VALUES(6,'B1:1','16000,10000000000,1000000,20261101,200,500,32,80000,cans');
INSERT INTO held_calibration VALUES(7,'B1:2','32000,10000000000,1000000,20261101,200,500,32,80000,cans');
INSERT INTO held_calibration VALUES(8,'B1:3','48000,10000000000,1000000,20261101,200,500,32,80000,cans');
INSERT INTO held_calibration VALUES(9,'B1:4','64000,10000000000,1000000,20261101,200,500,32,80000,cans');
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
INSERT INTO cause VALUES(38,'reading 0','reading at FL',1e999,'normal','a scale with smaller steps, or several readings');
INSERT INTO cause VALUES(39,'rise of FL, 50 mm','rise of the wheel centre at FL',1e999,'normal','measure the rise at the wheel centre again, to half a millimetre');
INSERT INTO cause VALUES(40,'blocks of 50 mm','height of the blocks',1e999,'normal','measure the blocks under load');
INSERT INTO cause VALUES(41,'reading 1','reading at FR',1e999,'normal','a scale with smaller steps, or several readings');
INSERT INTO cause VALUES(42,'reading 2','reading at RR',1e999,'normal','a scale with smaller steps, or several readings');
INSERT INTO cause VALUES(43,'rise of RR, 50 mm','rise of the wheel centre at RR',1e999,'normal','measure the rise at the wheel centre again, to half a millimetre');
INSERT INTO cause VALUES(44,'reading 3','reading at RL',1e999,'normal','a scale with smaller steps, or several readings');
INSERT INTO cause VALUES(45,'rise of RR, 0 mm','rise of the wheel centre at RR',1e999,'normal','measure the rise at the wheel centre again, to half a millimetre');
INSERT INTO cause VALUES(46,'known total','known total',1e999,'normal','a better known total');
INSERT INTO cause VALUES(47,'twist stiffness not known','how stiff the car is in twist, not known beforehand',1e999,'normal','a block under the partner wheel, a second rise, or the wheel rates in the vehicle file');
INSERT INTO cause VALUES(48,'height of the centre of gravity assumed','height of the centre of gravity not stated, 500 mm assumed',1e999,'rectangular','give cg_height_mm in the vehicle file, or put blocks under all the other wheels');
INSERT INTO cause VALUES(49,'wheel radius assumed','wheel radius not stated, 300 mm assumed',1e999,'normal','give wheel_radius_front_mm and wheel_radius_rear_mm in the vehicle file');
INSERT INTO cause VALUES(50,'front part of the twist compliance','how the roll stiffness is shared between the axles',1e999,'normal','');
INSERT INTO cause VALUES(51,'tyre rate not stated front','front tyre rate not stated, 200 N/mm assumed',1e999,'rectangular','give the tyre rate of Plain in its file');
INSERT INTO cause VALUES(52,'tyre rate not stated rear','rear tyre rate not stated, 200 N/mm assumed',1e999,'rectangular','give the tyre rate of Plain in its file');
INSERT INTO cause VALUES(53,'noise B1:1 10103001','noise of cell B1:1',40.0,'student-t','a longer window; nobody leaning, no wind');
INSERT INTO cause VALUES(54,'reference cans','reference mass cans',1e999,'normal','a better known mass; it does not matter for shares');
INSERT INTO cause VALUES(55,'cell error B1:1 10103001','non-linearity, hysteresis and creep of cell B1:1',1e999,'rectangular','cells of a better class or of smaller capacity');
INSERT INTO cause VALUES(56,'extrapolation B1:1','load of cell B1:1 above the largest calibrated one',1e999,'rectangular','calibrate with a larger mass');
INSERT INTO cause VALUES(57,'noise B1:2 10103002','noise of cell B1:2',40.0,'student-t','a longer window; nobody leaning, no wind');
INSERT INTO cause VALUES(58,'cell error B1:2 10103002','non-linearity, hysteresis and creep of cell B1:2',1e999,'rectangular','cells of a better class or of smaller capacity');
INSERT INTO cause VALUES(59,'extrapolation B1:2','load of cell B1:2 above the largest calibrated one',1e999,'rectangular','calibrate with a larger mass');
INSERT INTO cause VALUES(60,'noise B1:3 10103003','noise of cell B1:3',40.0,'student-t','a longer window; nobody leaning, no wind');
INSERT INTO cause VALUES(61,'cell error B1:3 10103003','non-linearity, hysteresis and creep of cell B1:3',1e999,'rectangular','cells of a better class or of smaller capacity');
INSERT INTO cause VALUES(62,'extrapolation B1:3','load of cell B1:3 above the largest calibrated one',1e999,'rectangular','calibrate with a larger mass');
INSERT INTO cause VALUES(63,'noise B1:4 10103004','noise of cell B1:4',40.0,'student-t','a longer window; nobody leaning, no wind');
INSERT INTO cause VALUES(64,'cell error B1:4 10103004','non-linearity, hysteresis and creep of cell B1:4',1e999,'rectangular','cells of a better class or of smaller capacity');
INSERT INTO cause VALUES(65,'extrapolation B1:4','load of cell B1:4 above the largest calibrated one',1e999,'rectangular','calibrate with a larger mass');
INSERT INTO cause VALUES(66,'noise B1:1 10003003','noise of cell B1:1',40.0,'student-t','a longer window; nobody leaning, no wind');
INSERT INTO cause VALUES(67,'cell error B1:1 10003003','non-linearity, hysteresis and creep of cell B1:1',1e999,'rectangular','cells of a better class or of smaller capacity');
INSERT INTO cause VALUES(68,'noise B1:2 10003004','noise of cell B1:2',40.0,'student-t','a longer window; nobody leaning, no wind');
INSERT INTO cause VALUES(69,'cell error B1:2 10003004','non-linearity, hysteresis and creep of cell B1:2',1e999,'rectangular','cells of a better class or of smaller capacity');
INSERT INTO cause VALUES(70,'noise B1:3 10003005','noise of cell B1:3',40.0,'student-t','a longer window; nobody leaning, no wind');
INSERT INTO cause VALUES(71,'cell error B1:3 10003005','non-linearity, hysteresis and creep of cell B1:3',1e999,'rectangular','cells of a better class or of smaller capacity');
INSERT INTO cause VALUES(72,'noise B1:4 10003006','noise of cell B1:4',40.0,'student-t','a longer window; nobody leaning, no wind');
INSERT INTO cause VALUES(73,'cell error B1:4 10003006','non-linearity, hysteresis and creep of cell B1:4',1e999,'rectangular','cells of a better class or of smaller capacity');
INSERT INTO cause VALUES(74,'noise B1:1 10003103','noise of cell B1:1',40.0,'student-t','a longer window; nobody leaning, no wind');
INSERT INTO cause VALUES(75,'cell error B1:1 10003103','non-linearity, hysteresis and creep of cell B1:1',1e999,'rectangular','cells of a better class or of smaller capacity');
INSERT INTO cause VALUES(76,'noise B1:2 10003104','noise of cell B1:2',40.0,'student-t','a longer window; nobody leaning, no wind');
INSERT INTO cause VALUES(77,'cell error B1:2 10003104','non-linearity, hysteresis and creep of cell B1:2',1e999,'rectangular','cells of a better class or of smaller capacity');
INSERT INTO cause VALUES(78,'noise B1:3 10003105','noise of cell B1:3',40.0,'student-t','a longer window; nobody leaning, no wind');
INSERT INTO cause VALUES(79,'cell error B1:3 10003105','non-linearity, hysteresis and creep of cell B1:3',1e999,'rectangular','cells of a better class or of smaller capacity');
INSERT INTO cause VALUES(80,'noise B1:4 10003106','noise of cell B1:4',40.0,'student-t','a longer window; nobody leaning, no wind');
INSERT INTO cause VALUES(81,'cell error B1:4 10003106','non-linearity, hysteresis and creep of cell B1:4',1e999,'rectangular','cells of a better class or of smaller capacity');
INSERT INTO cause VALUES(82,'zero going round 0','zero drift while going round the car',1e999,'rectangular','let the cells warm up in place, and go round quickly');
INSERT INTO cause VALUES(83,'noise B1:1 10103502','noise of cell B1:1',40.0,'student-t','a longer window; nobody leaning, no wind');
INSERT INTO cause VALUES(84,'cell error B1:1 10103502','non-linearity, hysteresis and creep of cell B1:1',1e999,'rectangular','cells of a better class or of smaller capacity');
INSERT INTO cause VALUES(85,'noise B1:2 10103503','noise of cell B1:2',40.0,'student-t','a longer window; nobody leaning, no wind');
INSERT INTO cause VALUES(86,'cell error B1:2 10103503','non-linearity, hysteresis and creep of cell B1:2',1e999,'rectangular','cells of a better class or of smaller capacity');
INSERT INTO cause VALUES(87,'noise B1:3 10103504','noise of cell B1:3',40.0,'student-t','a longer window; nobody leaning, no wind');
INSERT INTO cause VALUES(88,'cell error B1:3 10103504','non-linearity, hysteresis and creep of cell B1:3',1e999,'rectangular','cells of a better class or of smaller capacity');
INSERT INTO cause VALUES(89,'noise B1:4 10103505','noise of cell B1:4',40.0,'student-t','a longer window; nobody leaning, no wind');
INSERT INTO cause VALUES(90,'cell error B1:4 10103505','non-linearity, hysteresis and creep of cell B1:4',1e999,'rectangular','cells of a better class or of smaller capacity');
INSERT INTO cause VALUES(91,'friction 1','friction in the suspension at FL',1e999,'rectangular','rock the car, roll it, or lay greased sheets under the tyres');
INSERT INTO cause VALUES(92,'scrub 0','tyre scrub and friction at FL',1.0,'student-t','roll the wheel on instead of lowering it, or lay greased sheets under the tyres');
INSERT INTO cause VALUES(93,'noise B1:1 10090000','noise of cell B1:1',40.0,'student-t','a longer window; nobody leaning, no wind');
INSERT INTO cause VALUES(94,'cell error B1:1 10090000','non-linearity, hysteresis and creep of cell B1:1',1e999,'rectangular','cells of a better class or of smaller capacity');
INSERT INTO cause VALUES(95,'noise B1:2 10090001','noise of cell B1:2',40.0,'student-t','a longer window; nobody leaning, no wind');
INSERT INTO cause VALUES(96,'cell error B1:2 10090001','non-linearity, hysteresis and creep of cell B1:2',1e999,'rectangular','cells of a better class or of smaller capacity');
INSERT INTO cause VALUES(97,'noise B1:3 10090002','noise of cell B1:3',40.0,'student-t','a longer window; nobody leaning, no wind');
INSERT INTO cause VALUES(98,'cell error B1:3 10090002','non-linearity, hysteresis and creep of cell B1:3',1e999,'rectangular','cells of a better class or of smaller capacity');
INSERT INTO cause VALUES(99,'noise B1:4 10090003','noise of cell B1:4',40.0,'student-t','a longer window; nobody leaning, no wind');
INSERT INTO cause VALUES(100,'cell error B1:4 10090003','non-linearity, hysteresis and creep of cell B1:4',1e999,'rectangular','cells of a better class or of smaller capacity');
INSERT INTO cause VALUES(101,'still moving 4','load at FR that was still moving',1e999,'rectangular','');
INSERT INTO cause VALUES(102,'scrub 1','tyre scrub and friction at FR',1.0,'student-t','roll the wheel on instead of lowering it, or lay greased sheets under the tyres');
INSERT INTO cause VALUES(103,'noise B1:1 10090500','noise of cell B1:1',40.0,'student-t','a longer window; nobody leaning, no wind');
INSERT INTO cause VALUES(104,'cell error B1:1 10090500','non-linearity, hysteresis and creep of cell B1:1',1e999,'rectangular','cells of a better class or of smaller capacity');
INSERT INTO cause VALUES(105,'noise B1:2 10090501','noise of cell B1:2',40.0,'student-t','a longer window; nobody leaning, no wind');
INSERT INTO cause VALUES(106,'cell error B1:2 10090501','non-linearity, hysteresis and creep of cell B1:2',1e999,'rectangular','cells of a better class or of smaller capacity');
INSERT INTO cause VALUES(107,'noise B1:3 10090502','noise of cell B1:3',40.0,'student-t','a longer window; nobody leaning, no wind');
INSERT INTO cause VALUES(108,'cell error B1:3 10090502','non-linearity, hysteresis and creep of cell B1:3',1e999,'rectangular','cells of a better class or of smaller capacity');
INSERT INTO cause VALUES(109,'noise B1:4 10090503','noise of cell B1:4',40.0,'student-t','a longer window; nobody leaning, no wind');
INSERT INTO cause VALUES(110,'cell error B1:4 10090503','non-linearity, hysteresis and creep of cell B1:4',1e999,'rectangular','cells of a better class or of smaller capacity');
INSERT INTO cause VALUES(111,'scrub 2','tyre scrub and friction at FR',1.0,'student-t','roll the wheel on instead of lowering it, or lay greased sheets under the tyres');
INSERT INTO cause VALUES(112,'noise B1:1 20000000','noise of cell B1:1',40.0,'student-t','a longer window; nobody leaning, no wind');
INSERT INTO cause VALUES(113,'cell error B1:1 20000000','non-linearity, hysteresis and creep of cell B1:1',1e999,'rectangular','cells of a better class or of smaller capacity');
INSERT INTO cause VALUES(114,'blocks of 0 mm','height of the blocks',1e999,'normal','measure the blocks under load');
INSERT INTO cause VALUES(115,'noise B1:2 20000002','noise of cell B1:2',40.0,'student-t','a longer window; nobody leaning, no wind');
INSERT INTO cause VALUES(116,'cell error B1:2 20000002','non-linearity, hysteresis and creep of cell B1:2',1e999,'rectangular','cells of a better class or of smaller capacity');
INSERT INTO cause VALUES(117,'noise B1:1 20000002','noise of cell B1:1',40.0,'student-t','a longer window; nobody leaning, no wind');
INSERT INTO cause VALUES(118,'cell error B1:1 20000002','non-linearity, hysteresis and creep of cell B1:1',1e999,'rectangular','cells of a better class or of smaller capacity');
INSERT INTO cause VALUES(119,'noise B1:2 20000004','noise of cell B1:2',40.0,'student-t','a longer window; nobody leaning, no wind');
INSERT INTO cause VALUES(120,'cell error B1:2 20000004','non-linearity, hysteresis and creep of cell B1:2',1e999,'rectangular','cells of a better class or of smaller capacity');
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
INSERT INTO weighing VALUES(7,'one-by-one',1,3,NULL);
INSERT INTO weighing VALUES(8,'one-by-one',0,3,'to see why');
INSERT INTO weighing VALUES(9,'by-axle',1,3,NULL);
CREATE TABLE weighing_board (
  weighing INTEGER NOT NULL REFERENCES weighing ON DELETE CASCADE,
  place INTEGER NOT NULL,
  board INTEGER NOT NULL REFERENCES board,
  PRIMARY KEY (weighing, place)
) STRICT, WITHOUT ROWID;
INSERT INTO weighing_board VALUES(1,0,1);
INSERT INTO weighing_board VALUES(3,0,1);
INSERT INTO weighing_board VALUES(8,0,1);
INSERT INTO weighing_board VALUES(9,0,1);
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
INSERT INTO weighing_reason VALUES(8,0,'kept-with-reason','FR','FR: kept although  ("wind")');
INSERT INTO weighing_reason VALUES(8,1,'scrub',NULL,'repeated readings differ by about 0.8 kg from each other: tyres that stand sideways or springs that stick; it is in the +/-');
INSERT INTO weighing_reason VALUES(8,2,'corner-missing','RL','RL was not weighed');
INSERT INTO weighing_reason VALUES(8,3,'corner-missing','RR','RR was not weighed');
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
INSERT INTO weighing_result VALUES(7,0,'total_kg',1401.8815117836497847,3.9138537758387523801,1.9599639845400538273);
INSERT INTO weighing_result VALUES(7,1,'front_share',0.57580864715263291309,0.0023517432544681287492,1.9233283530486904311);
INSERT INTO weighing_result VALUES(7,2,'left_share',0.50021894912532216537,0.0013284220078935865018,1.9599639845400538273);
INSERT INTO weighing_result VALUES(7,3,'cross_share',0.50021840416108787064,0.0013279679757842225134,1.9599639845400538273);
INSERT INTO weighing_result VALUES(7,4,'diagonal_difference_kg',0.61235351105165136686,3.7232639515618037862,1.9599639845400538273);
INSERT INTO weighing_result VALUES(7,5,'rear_left_minus_right_kg',0.61311748633613660786,1.5800475764490928831,1.9599639845400538273);
INSERT INTO weighing_result VALUES(7,6,'cg_behind_front_axle_mm',1102.8975174031543246,6.24696531681566114,1.9267729801907749198);
INSERT INTO weighing_result VALUES(7,7,'cg_left_of_centre_mm',0.32405015511911061665,1.9878726823074557295,1.9599639845400538273);
INSERT INTO weighing_result VALUES(8,0,'total_kg',NULL,NULL,NULL);
INSERT INTO weighing_result VALUES(8,1,'front_share',NULL,NULL,NULL);
INSERT INTO weighing_result VALUES(8,2,'left_share',NULL,NULL,NULL);
INSERT INTO weighing_result VALUES(8,3,'cross_share',NULL,NULL,NULL);
INSERT INTO weighing_result VALUES(8,4,'diagonal_difference_kg',NULL,NULL,NULL);
INSERT INTO weighing_result VALUES(8,5,'rear_left_minus_right_kg',NULL,NULL,NULL);
INSERT INTO weighing_result VALUES(8,6,'cg_behind_front_axle_mm',NULL,NULL,NULL);
INSERT INTO weighing_result VALUES(8,7,'cg_left_of_centre_mm',NULL,NULL,NULL);
INSERT INTO weighing_result VALUES(9,0,'total_kg',1560.0,2.2979873541778319534,1.9599639845400538273);
INSERT INTO weighing_result VALUES(9,1,'front_share',0.5,0.00037416857955870156662,1.9599639845400538273);
INSERT INTO weighing_result VALUES(9,2,'left_share',0.51282051282051277496,0.00055342402054323937016,1.9599639845400538273);
INSERT INTO weighing_result VALUES(9,3,'cross_share',0.5,0.0015956164411818961421,1.9599639845400538273);
INSERT INTO weighing_result VALUES(9,4,'diagonal_difference_kg',0.0,4.978323296487514149,1.9599639845400538273);
INSERT INTO weighing_result VALUES(9,5,'rear_left_minus_right_kg',20.0,2.7250214116467503799,1.9599639845400538273);
INSERT INTO weighing_result VALUES(9,6,'cg_behind_front_axle_mm',1300.0,1.7627350787683120358,1.9599639845400538273);
INSERT INTO weighing_result VALUES(9,7,'cg_left_of_centre_mm',19.102564102564102199,0.82334278817987782694,1.9599639845400538273);
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
INSERT INTO weighing_load VALUES(7,0,'FL',403.60813037185783967);
INSERT INTO weighing_load VALUES(7,1,'FR',403.60736639657335445);
INSERT INTO weighing_load VALUES(7,2,'RL',297.63956625077730678);
INSERT INTO weighing_load VALUES(7,3,'RR',297.02644876444117016);
INSERT INTO weighing_load VALUES(8,0,'FL',401.60248170123310274);
INSERT INTO weighing_load VALUES(8,1,'FR',377.55255897336547831);
INSERT INTO weighing_load VALUES(8,2,'RL',NULL);
INSERT INTO weighing_load VALUES(8,3,'RR',NULL);
INSERT INTO weighing_load VALUES(9,0,'FL',400.0);
INSERT INTO weighing_load VALUES(9,1,'FR',380.0);
INSERT INTO weighing_load VALUES(9,2,'RL',400.0);
INSERT INTO weighing_load VALUES(9,3,'RR',380.0);
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
INSERT INTO weighing_contribution VALUES(7,0,0,38,0.29943945987172232436);
INSERT INTO weighing_contribution VALUES(7,0,1,39,-0.45138044286018691453);
INSERT INTO weighing_contribution VALUES(7,0,2,40,0.71024535453093595727);
INSERT INTO weighing_contribution VALUES(7,0,3,41,-0.0005605401282776716846);
INSERT INTO weighing_contribution VALUES(7,0,4,42,-0.00056054012827749712805);
INSERT INTO weighing_contribution VALUES(7,0,5,43,0.00086267178946369783235);
INSERT INTO weighing_contribution VALUES(7,0,6,44,-0.00056054012827752737729);
INSERT INTO weighing_contribution VALUES(7,0,7,45,-0.00090415067136795075706);
INSERT INTO weighing_contribution VALUES(7,0,8,46,0.0052951822455916345427);
INSERT INTO weighing_contribution VALUES(7,0,9,47,0.066212383441843131182);
INSERT INTO weighing_contribution VALUES(7,0,10,48,0.59171389871993806952);
INSERT INTO weighing_contribution VALUES(7,0,11,49,-0.10248785361275976335);
INSERT INTO weighing_contribution VALUES(7,0,12,50,-0.0038944803667597420113);
INSERT INTO weighing_contribution VALUES(7,0,13,51,0.0);
INSERT INTO weighing_contribution VALUES(7,0,14,52,0.00016934651123279352655);
INSERT INTO weighing_contribution VALUES(7,1,0,38,-0.00055452066554313326953);
INSERT INTO weighing_contribution VALUES(7,1,1,39,0.47349734844918717202);
INSERT INTO weighing_contribution VALUES(7,1,2,40,-0.67706999614743568205);
INSERT INTO weighing_contribution VALUES(7,1,3,41,0.29944547933445686549);
INSERT INTO weighing_contribution VALUES(7,1,4,42,-0.00055452066554274490831);
INSERT INTO weighing_contribution VALUES(7,1,5,43,0.00085340783060145559892);
INSERT INTO weighing_contribution VALUES(7,1,6,44,-0.00055452066554332745014);
INSERT INTO weighing_contribution VALUES(7,1,7,45,-0.00089444128394349387695);
INSERT INTO weighing_contribution VALUES(7,1,8,46,0.0052552486844379643279);
INSERT INTO weighing_contribution VALUES(7,1,9,47,0.065501349646776133028);
INSERT INTO weighing_contribution VALUES(7,1,10,48,0.5917883981513217817);
INSERT INTO weighing_contribution VALUES(7,1,11,49,-0.10250075729278890213);
INSERT INTO weighing_contribution VALUES(7,1,12,50,-0.0038526587767288150709);
INSERT INTO weighing_contribution VALUES(7,1,13,51,0.0);
INSERT INTO weighing_contribution VALUES(7,1,14,52,0.00016752795273518596131);
INSERT INTO weighing_contribution VALUES(7,2,0,38,-0.14536949605357823989);
INSERT INTO weighing_contribution VALUES(7,2,1,39,-0.010757060654433464597);
INSERT INTO weighing_contribution VALUES(7,2,2,40,-0.016135590981650238528);
INSERT INTO weighing_contribution VALUES(7,2,3,41,-0.14536949605357823989);
INSERT INTO weighing_contribution VALUES(7,2,4,42,-0.14536949605357865622);
INSERT INTO weighing_contribution VALUES(7,2,5,43,0.22372379240598089245);
INSERT INTO weighing_contribution VALUES(7,2,6,44,0.15463050394642158247);
INSERT INTO weighing_contribution VALUES(7,2,7,45,0.24941884961338767201);
INSERT INTO weighing_contribution VALUES(7,2,8,46,0.96770437665528641346);
INSERT INTO weighing_contribution VALUES(7,2,9,47,-0.11290413209905338087);
INSERT INTO weighing_contribution VALUES(7,2,10,48,-0.54134229521007093399);
INSERT INTO weighing_contribution VALUES(7,2,11,49,0.0937632359589792852);
INSERT INTO weighing_contribution VALUES(7,2,12,50,0.032171482107703028296);
INSERT INTO weighing_contribution VALUES(7,2,13,51,0.0);
INSERT INTO weighing_contribution VALUES(7,2,14,52,0.043918027906412589189);
INSERT INTO weighing_contribution VALUES(7,3,0,38,-0.15258185875884339166);
INSERT INTO weighing_contribution VALUES(7,3,1,39,-0.011290761500818147222);
INSERT INTO weighing_contribution VALUES(7,3,2,40,-0.016936142251227248589);
INSERT INTO weighing_contribution VALUES(7,3,3,41,-0.15258185875884339166);
INSERT INTO weighing_contribution VALUES(7,3,4,42,0.14741814124115609763);
INSERT INTO weighing_contribution VALUES(7,3,5,43,-0.2268766592941632576);
INSERT INTO weighing_contribution VALUES(7,3,6,44,-0.15258185875884355819);
INSERT INTO weighing_contribution VALUES(7,3,7,45,-0.24611438695620871386);
INSERT INTO weighing_contribution VALUES(7,3,8,46,1.0155517244722078729);
INSERT INTO weighing_contribution VALUES(7,3,9,47,-0.12908689379414362008);
INSERT INTO weighing_contribution VALUES(7,3,10,48,-0.63060556407240730969);
INSERT INTO weighing_contribution VALUES(7,3,11,49,0.10922408765090405036);
INSERT INTO weighing_contribution VALUES(7,3,12,50,-0.017938052494036748479);
INSERT INTO weighing_contribution VALUES(7,3,13,51,0.0);
INSERT INTO weighing_contribution VALUES(7,3,14,52,-0.044536950438036515542);
INSERT INTO weighing_contribution VALUES(8,0,0,53,0.010014836795252120282);
INSERT INTO weighing_contribution VALUES(8,0,1,2,0.0);
INSERT INTO weighing_contribution VALUES(8,0,2,3,0.0);
INSERT INTO weighing_contribution VALUES(8,0,3,4,0.020095581998016087688);
INSERT INTO weighing_contribution VALUES(8,0,4,54,0.20080124085061240579);
INSERT INTO weighing_contribution VALUES(8,0,5,55,0.11564137439257962669);
INSERT INTO weighing_contribution VALUES(8,0,6,7,0.011602189676076785432);
INSERT INTO weighing_contribution VALUES(8,0,7,56,0.013452056829574298574);
INSERT INTO weighing_contribution VALUES(8,0,8,57,0.010014836795252120282);
INSERT INTO weighing_contribution VALUES(8,0,9,9,0.0);
INSERT INTO weighing_contribution VALUES(8,0,10,10,0.0);
INSERT INTO weighing_contribution VALUES(8,0,11,11,0.019056379821958051995);
INSERT INTO weighing_contribution VALUES(8,0,12,58,0.11564137439257962669);
INSERT INTO weighing_contribution VALUES(8,0,13,13,0.01100220601998723284);
INSERT INTO weighing_contribution VALUES(8,0,14,59,0.010423142545251062873);
INSERT INTO weighing_contribution VALUES(8,0,15,60,0.010014836795252120282);
INSERT INTO weighing_contribution VALUES(8,0,16,15,0.0);
INSERT INTO weighing_contribution VALUES(8,0,17,16,0.0);
INSERT INTO weighing_contribution VALUES(8,0,18,17,0.02146030009890625978);
INSERT INTO weighing_contribution VALUES(8,0,19,61,0.11564137439257962669);
INSERT INTO weighing_contribution VALUES(8,0,20,19,0.012390110038993684335);
INSERT INTO weighing_contribution VALUES(8,0,21,62,0.017362662640283309939);
INSERT INTO weighing_contribution VALUES(8,0,22,63,0.010014836795252120282);
INSERT INTO weighing_contribution VALUES(8,0,23,21,0.0);
INSERT INTO weighing_contribution VALUES(8,0,24,22,0.0);
INSERT INTO weighing_contribution VALUES(8,0,25,23,0.019708234421364566324);
INSERT INTO weighing_contribution VALUES(8,0,26,64,0.11564137439257962669);
INSERT INTO weighing_contribution VALUES(8,0,27,25,0.011378554448427082718);
INSERT INTO weighing_contribution VALUES(8,0,28,65,0.012304884687450298383);
INSERT INTO weighing_contribution VALUES(8,0,29,66,-0.010014836795252120282);
INSERT INTO weighing_contribution VALUES(8,0,30,67,-0.11564137439257962669);
INSERT INTO weighing_contribution VALUES(8,0,31,68,-0.010014836795252120282);
INSERT INTO weighing_contribution VALUES(8,0,32,69,-0.11564137439257962669);
INSERT INTO weighing_contribution VALUES(8,0,33,70,-0.010014836795252120282);
INSERT INTO weighing_contribution VALUES(8,0,34,71,-0.11564137439257962669);
INSERT INTO weighing_contribution VALUES(8,0,35,72,-0.010014836795252120282);
INSERT INTO weighing_contribution VALUES(8,0,36,73,-0.11564137439257962669);
INSERT INTO weighing_contribution VALUES(8,0,37,74,-0.010044510385756351758);
INSERT INTO weighing_contribution VALUES(8,0,38,75,-0.11598401550188845721);
INSERT INTO weighing_contribution VALUES(8,0,39,76,-0.010044510385756351758);
INSERT INTO weighing_contribution VALUES(8,0,40,77,-0.11598401550188845721);
INSERT INTO weighing_contribution VALUES(8,0,41,78,-0.010044510385756351758);
INSERT INTO weighing_contribution VALUES(8,0,42,79,-0.11598401550188845721);
INSERT INTO weighing_contribution VALUES(8,0,43,80,-0.010044510385756351758);
INSERT INTO weighing_contribution VALUES(8,0,44,81,-0.11598401550188845721);
INSERT INTO weighing_contribution VALUES(8,0,45,82,-0.02891034359814479912);
INSERT INTO weighing_contribution VALUES(8,0,46,83,0.010014836795252120282);
INSERT INTO weighing_contribution VALUES(8,0,47,84,0.11564137439257962669);
INSERT INTO weighing_contribution VALUES(8,0,48,85,0.010014836795252120282);
INSERT INTO weighing_contribution VALUES(8,0,49,86,0.11564137439257962669);
INSERT INTO weighing_contribution VALUES(8,0,50,87,0.010014836795252120282);
INSERT INTO weighing_contribution VALUES(8,0,51,88,0.11564137439257962669);
INSERT INTO weighing_contribution VALUES(8,0,52,89,0.010014836795252120282);
INSERT INTO weighing_contribution VALUES(8,0,53,90,0.11564137439257962669);
INSERT INTO weighing_contribution VALUES(8,0,54,91,0.28910343598144905286);
INSERT INTO weighing_contribution VALUES(8,0,55,92,0.53464598072114677407);
INSERT INTO weighing_contribution VALUES(8,0,56,39,-1.235354002908183757);
INSERT INTO weighing_contribution VALUES(8,0,57,40,1.8953639390992234048);
INSERT INTO weighing_contribution VALUES(8,0,58,93,1.7131553972202165499e-05);
INSERT INTO weighing_contribution VALUES(8,0,59,94,0.00019781814594975049041);
INSERT INTO weighing_contribution VALUES(8,0,60,95,1.7131553972202165499e-05);
INSERT INTO weighing_contribution VALUES(8,0,61,96,0.00019781814594975049041);
INSERT INTO weighing_contribution VALUES(8,0,62,97,1.7131553972202165499e-05);
INSERT INTO weighing_contribution VALUES(8,0,63,98,0.00019781814594975049041);
INSERT INTO weighing_contribution VALUES(8,0,64,99,1.7131553972202165499e-05);
INSERT INTO weighing_contribution VALUES(8,0,65,100,0.00019781814594975049041);
INSERT INTO weighing_contribution VALUES(8,0,66,101,9.8909072974875235041e-06);
INSERT INTO weighing_contribution VALUES(8,0,67,102,0.00045728735585025091911);
INSERT INTO weighing_contribution VALUES(8,0,68,103,1.254203653202973711e-05);
INSERT INTO weighing_contribution VALUES(8,0,69,104,0.00014482296335906977985);
INSERT INTO weighing_contribution VALUES(8,0,70,105,1.254203653202973711e-05);
INSERT INTO weighing_contribution VALUES(8,0,71,106,0.00014482296335906977985);
INSERT INTO weighing_contribution VALUES(8,0,72,107,1.254203653202973711e-05);
INSERT INTO weighing_contribution VALUES(8,0,73,108,0.00014482296335906977985);
INSERT INTO weighing_contribution VALUES(8,0,74,109,1.254203653202973711e-05);
INSERT INTO weighing_contribution VALUES(8,0,75,110,0.00014482296335906977985);
INSERT INTO weighing_contribution VALUES(8,0,76,111,0.00033478076373079227508);
INSERT INTO weighing_contribution VALUES(8,0,77,47,0.0);
INSERT INTO weighing_contribution VALUES(8,0,78,48,0.66742636865391768985);
INSERT INTO weighing_contribution VALUES(8,0,79,49,-0.11560163808197812529);
INSERT INTO weighing_contribution VALUES(8,0,80,50,0.0);
INSERT INTO weighing_contribution VALUES(8,0,81,51,0.0);
INSERT INTO weighing_contribution VALUES(8,0,82,52,0.0);
INSERT INTO weighing_contribution VALUES(8,1,0,53,1.4836795252119237793e-05);
INSERT INTO weighing_contribution VALUES(8,1,1,2,0.0);
INSERT INTO weighing_contribution VALUES(8,1,2,3,0.0);
INSERT INTO weighing_contribution VALUES(8,1,3,4,0.017485589725229334218);
INSERT INTO weighing_contribution VALUES(8,1,4,54,0.18877627948667868862);
INSERT INTO weighing_contribution VALUES(8,1,5,55,0.0001713205546544480822);
INSERT INTO weighing_contribution VALUES(8,1,6,7,0.01009530993480051153);
INSERT INTO weighing_contribution VALUES(8,1,7,56,0.00594652563665238644);
INSERT INTO weighing_contribution VALUES(8,1,8,57,1.4836795252119237793e-05);
INSERT INTO weighing_contribution VALUES(8,1,9,9,0.0);
INSERT INTO weighing_contribution VALUES(8,1,10,10,0.0);
INSERT INTO weighing_contribution VALUES(8,1,11,11,0.019056379821958055464);
INSERT INTO weighing_contribution VALUES(8,1,12,58,0.0001713205546544480822);
INSERT INTO weighing_contribution VALUES(8,1,13,13,0.011002206019987239779);
INSERT INTO weighing_contribution VALUES(8,1,14,59,0.010423142545251069812);
INSERT INTO weighing_contribution VALUES(8,1,15,60,1.4836795252119237793e-05);
INSERT INTO weighing_contribution VALUES(8,1,16,15,0.0);
INSERT INTO weighing_contribution VALUES(8,1,17,16,0.0);
INSERT INTO weighing_contribution VALUES(8,1,18,17,0.019310307826119504914);
INSERT INTO weighing_contribution VALUES(8,1,19,61,0.0001713205546544480822);
INSERT INTO weighing_contribution VALUES(8,1,20,19,0.011148811421544637528);
INSERT INTO weighing_contribution VALUES(8,1,21,62,0.011156169553038056824);
INSERT INTO weighing_contribution VALUES(8,1,22,63,1.4836795252119237793e-05);
INSERT INTO weighing_contribution VALUES(8,1,23,21,0.0);
INSERT INTO weighing_contribution VALUES(8,1,24,22,0.0);
INSERT INTO weighing_contribution VALUES(8,1,25,23,0.0196582344213645753);
INSERT INTO weighing_contribution VALUES(8,1,26,64,0.0001713205546544480822);
INSERT INTO weighing_contribution VALUES(8,1,27,25,0.011349686934967607998);
INSERT INTO weighing_contribution VALUES(8,1,28,65,0.012160547120152898764);
INSERT INTO weighing_contribution VALUES(8,1,29,66,-1.4836795252119237793e-05);
INSERT INTO weighing_contribution VALUES(8,1,30,67,-0.0001713205546544480822);
INSERT INTO weighing_contribution VALUES(8,1,31,68,-1.4836795252119237793e-05);
INSERT INTO weighing_contribution VALUES(8,1,32,69,-0.0001713205546544480822);
INSERT INTO weighing_contribution VALUES(8,1,33,70,-1.4836795252119237793e-05);
INSERT INTO weighing_contribution VALUES(8,1,34,71,-0.0001713205546544480822);
INSERT INTO weighing_contribution VALUES(8,1,35,72,-1.4836795252119237793e-05);
INSERT INTO weighing_contribution VALUES(8,1,36,73,-0.0001713205546544480822);
INSERT INTO weighing_contribution VALUES(8,1,37,74,-0.020044510385756365844);
INSERT INTO weighing_contribution VALUES(8,1,38,75,-0.23145406933981374497);
INSERT INTO weighing_contribution VALUES(8,1,39,76,-0.020044510385756365844);
INSERT INTO weighing_contribution VALUES(8,1,40,77,-0.23145406933981374497);
INSERT INTO weighing_contribution VALUES(8,1,41,78,-0.020044510385756365844);
INSERT INTO weighing_contribution VALUES(8,1,42,79,-0.23145406933981374497);
INSERT INTO weighing_contribution VALUES(8,1,43,80,-0.020044510385756365844);
INSERT INTO weighing_contribution VALUES(8,1,44,81,-0.23145406933981374497);
INSERT INTO weighing_contribution VALUES(8,1,45,82,-4.2830138663611864698e-05);
INSERT INTO weighing_contribution VALUES(8,1,46,83,1.4836795252119237793e-05);
INSERT INTO weighing_contribution VALUES(8,1,47,84,0.0001713205546544480822);
INSERT INTO weighing_contribution VALUES(8,1,48,85,1.4836795252119237793e-05);
INSERT INTO weighing_contribution VALUES(8,1,49,86,0.0001713205546544480822);
INSERT INTO weighing_contribution VALUES(8,1,50,87,1.4836795252119237793e-05);
INSERT INTO weighing_contribution VALUES(8,1,51,88,0.0001713205546544480822);
INSERT INTO weighing_contribution VALUES(8,1,52,89,1.4836795252119237793e-05);
INSERT INTO weighing_contribution VALUES(8,1,53,90,0.0001713205546544480822);
INSERT INTO weighing_contribution VALUES(8,1,54,91,0.00042830138663612021907);
INSERT INTO weighing_contribution VALUES(8,1,55,92,0.00079206811958121867232);
INSERT INTO weighing_contribution VALUES(8,1,56,39,1.2635759593994821958);
INSERT INTO weighing_contribution VALUES(8,1,57,40,-1.8530310043622750804);
INSERT INTO weighing_contribution VALUES(8,1,58,93,0.010015586111324333365);
INSERT INTO weighing_contribution VALUES(8,1,59,94,0.11565002674929962533);
INSERT INTO weighing_contribution VALUES(8,1,60,95,0.010015586111324333365);
INSERT INTO weighing_contribution VALUES(8,1,61,96,0.11565002674929962533);
INSERT INTO weighing_contribution VALUES(8,1,62,97,0.010015586111324333365);
INSERT INTO weighing_contribution VALUES(8,1,63,98,0.11565002674929962533);
INSERT INTO weighing_contribution VALUES(8,1,64,99,0.010015586111324333365);
INSERT INTO weighing_contribution VALUES(8,1,65,100,0.11565002674929962533);
INSERT INTO weighing_contribution VALUES(8,1,66,101,0.0057825013374649810934);
INSERT INTO weighing_contribution VALUES(8,1,67,102,0.26734299162641972369);
INSERT INTO weighing_contribution VALUES(8,1,68,103,0.010014087479179912404);
INSERT INTO weighing_contribution VALUES(8,1,69,104,0.11563272203585966968);
INSERT INTO weighing_contribution VALUES(8,1,70,105,0.010014087479179912404);
INSERT INTO weighing_contribution VALUES(8,1,71,106,0.11563272203585966968);
INSERT INTO weighing_contribution VALUES(8,1,72,107,0.010014087479179912404);
INSERT INTO weighing_contribution VALUES(8,1,73,108,0.11563272203585966968);
INSERT INTO weighing_contribution VALUES(8,1,74,109,0.010014087479179912404);
INSERT INTO weighing_contribution VALUES(8,1,75,110,0.11563272203585966968);
INSERT INTO weighing_contribution VALUES(8,1,76,111,0.26730298909472721691);
INSERT INTO weighing_contribution VALUES(8,1,77,47,0.0);
INSERT INTO weighing_contribution VALUES(8,1,78,48,0.66742636865391791189);
INSERT INTO weighing_contribution VALUES(8,1,79,49,-0.11560163808197815304);
INSERT INTO weighing_contribution VALUES(8,1,80,50,0.0);
INSERT INTO weighing_contribution VALUES(8,1,81,51,0.0);
INSERT INTO weighing_contribution VALUES(8,1,82,52,0.0);
INSERT INTO weighing_contribution VALUES(9,0,0,112,0.020000000000000000416);
INSERT INTO weighing_contribution VALUES(9,0,1,2,-0.020000000000000000416);
INSERT INTO weighing_contribution VALUES(9,0,2,3,0.11547005383792517674);
INSERT INTO weighing_contribution VALUES(9,0,3,4,0.080000000000000001665);
INSERT INTO weighing_contribution VALUES(9,0,4,54,0.19999999999999998334);
INSERT INTO weighing_contribution VALUES(9,0,5,113,0.28867513459481292104);
INSERT INTO weighing_contribution VALUES(9,0,6,7,0.046188021535170063758);
INSERT INTO weighing_contribution VALUES(9,0,7,56,0.18475208614068025503);
INSERT INTO weighing_contribution VALUES(9,0,8,114,0.62806085725825155918);
INSERT INTO weighing_contribution VALUES(9,0,9,115,0.0);
INSERT INTO weighing_contribution VALUES(9,0,10,9,9.7330259668626854544e-20);
INSERT INTO weighing_contribution VALUES(9,0,11,10,-5.6193651619977894682e-19);
INSERT INTO weighing_contribution VALUES(9,0,12,11,-3.6985498674078200872e-19);
INSERT INTO weighing_contribution VALUES(9,0,13,116,0.0);
INSERT INTO weighing_contribution VALUES(9,0,14,13,-2.1353587615591597089e-19);
INSERT INTO weighing_contribution VALUES(9,0,15,59,-8.4290477429966837201e-19);
INSERT INTO weighing_contribution VALUES(9,0,16,117,1.3411708976096556513e-18);
INSERT INTO weighing_contribution VALUES(9,0,17,118,1.9358134469105668928e-17);
INSERT INTO weighing_contribution VALUES(9,0,18,119,-9.7330259668626854544e-20);
INSERT INTO weighing_contribution VALUES(9,0,19,120,-1.4048412904994474151e-18);
INSERT INTO weighing_contribution VALUES(9,0,20,47,0.0);
INSERT INTO weighing_contribution VALUES(9,0,21,48,0.0);
INSERT INTO weighing_contribution VALUES(9,0,22,49,0.0);
INSERT INTO weighing_contribution VALUES(9,0,23,50,0.0);
INSERT INTO weighing_contribution VALUES(9,0,24,51,0.0);
INSERT INTO weighing_contribution VALUES(9,0,25,52,0.0);
INSERT INTO weighing_contribution VALUES(9,1,0,112,0.0);
INSERT INTO weighing_contribution VALUES(9,1,1,2,0.0);
INSERT INTO weighing_contribution VALUES(9,1,2,3,0.0);
INSERT INTO weighing_contribution VALUES(9,1,3,4,0.0);
INSERT INTO weighing_contribution VALUES(9,1,4,54,0.19000000000000000222);
INSERT INTO weighing_contribution VALUES(9,1,5,113,0.0);
INSERT INTO weighing_contribution VALUES(9,1,6,7,0.0);
INSERT INTO weighing_contribution VALUES(9,1,7,56,0.0);
INSERT INTO weighing_contribution VALUES(9,1,8,114,-0.55763842101160232544);
INSERT INTO weighing_contribution VALUES(9,1,9,115,0.020000000000000000416);
INSERT INTO weighing_contribution VALUES(9,1,10,9,-0.020000000000000000416);
INSERT INTO weighing_contribution VALUES(9,1,11,10,0.11547005383792516286);
INSERT INTO weighing_contribution VALUES(9,1,12,11,0.075999999999999998112);
INSERT INTO weighing_contribution VALUES(9,1,13,116,0.28867513459481292104);
INSERT INTO weighing_contribution VALUES(9,1,14,13,0.043878620458411558835);
INSERT INTO weighing_contribution VALUES(9,1,15,59,0.17320508075688773041);
INSERT INTO weighing_contribution VALUES(9,1,16,117,0.0);
INSERT INTO weighing_contribution VALUES(9,1,17,118,0.0);
INSERT INTO weighing_contribution VALUES(9,1,18,119,9.4226441424838251383e-19);
INSERT INTO weighing_contribution VALUES(9,1,19,120,1.3600415330352719621e-17);
INSERT INTO weighing_contribution VALUES(9,1,20,47,0.0);
INSERT INTO weighing_contribution VALUES(9,1,21,48,0.0);
INSERT INTO weighing_contribution VALUES(9,1,22,49,0.0);
INSERT INTO weighing_contribution VALUES(9,1,23,50,0.0);
INSERT INTO weighing_contribution VALUES(9,1,24,51,0.0);
INSERT INTO weighing_contribution VALUES(9,1,25,52,0.0);
INSERT INTO weighing_contribution VALUES(9,2,0,112,0.0);
INSERT INTO weighing_contribution VALUES(9,2,1,2,-0.020000000000000000416);
INSERT INTO weighing_contribution VALUES(9,2,2,3,0.11547005383792516286);
INSERT INTO weighing_contribution VALUES(9,2,3,4,0.080000000000000001665);
INSERT INTO weighing_contribution VALUES(9,2,4,54,0.2000000000000000111);
INSERT INTO weighing_contribution VALUES(9,2,5,113,0.0);
INSERT INTO weighing_contribution VALUES(9,2,6,7,0.046188021535170063758);
INSERT INTO weighing_contribution VALUES(9,2,7,56,0.18475208614068025503);
INSERT INTO weighing_contribution VALUES(9,2,8,114,-0.67896023697871665802);
INSERT INTO weighing_contribution VALUES(9,2,9,115,0.0);
INSERT INTO weighing_contribution VALUES(9,2,10,9,-1.5681496248808255745e-18);
INSERT INTO weighing_contribution VALUES(9,2,11,10,9.0537160805455531411e-18);
INSERT INTO weighing_contribution VALUES(9,2,12,11,5.9589685745471371444e-18);
INSERT INTO weighing_contribution VALUES(9,2,13,116,0.0);
INSERT INTO weighing_contribution VALUES(9,2,14,13,3.4404121106073100703e-18);
INSERT INTO weighing_contribution VALUES(9,2,15,59,1.3580574120818329711e-17);
INSERT INTO weighing_contribution VALUES(9,2,16,117,0.020000000000000000416);
INSERT INTO weighing_contribution VALUES(9,2,17,118,0.28867513459481292104);
INSERT INTO weighing_contribution VALUES(9,2,18,119,1.5681496248808255745e-18);
INSERT INTO weighing_contribution VALUES(9,2,19,120,2.2634290201363884392e-17);
INSERT INTO weighing_contribution VALUES(9,2,20,47,0.0);
INSERT INTO weighing_contribution VALUES(9,2,21,48,0.0);
INSERT INTO weighing_contribution VALUES(9,2,22,49,0.0);
INSERT INTO weighing_contribution VALUES(9,2,23,50,0.0);
INSERT INTO weighing_contribution VALUES(9,2,24,51,0.0);
INSERT INTO weighing_contribution VALUES(9,2,25,52,0.0);
INSERT INTO weighing_contribution VALUES(9,3,0,112,0.0);
INSERT INTO weighing_contribution VALUES(9,3,1,2,-1.864303119171168773e-18);
INSERT INTO weighing_contribution VALUES(9,3,2,3,1.0763559077045333148e-17);
INSERT INTO weighing_contribution VALUES(9,3,3,4,7.4572124766846750922e-18);
INSERT INTO weighing_contribution VALUES(9,3,4,54,0.19000000000000002997);
INSERT INTO weighing_contribution VALUES(9,3,5,113,0.0);
INSERT INTO weighing_contribution VALUES(9,3,6,7,4.3054236308181331048e-18);
INSERT INTO weighing_contribution VALUES(9,3,7,56,1.7221694523272532419e-17);
INSERT INTO weighing_contribution VALUES(9,3,8,114,0.60853780073206664713);
INSERT INTO weighing_contribution VALUES(9,3,9,115,0.0);
INSERT INTO weighing_contribution VALUES(9,3,10,9,-0.020000000000000000416);
INSERT INTO weighing_contribution VALUES(9,3,11,10,0.11547005383792516286);
INSERT INTO weighing_contribution VALUES(9,3,12,11,0.075999999999999998112);
INSERT INTO weighing_contribution VALUES(9,3,13,116,0.0);
INSERT INTO weighing_contribution VALUES(9,3,14,13,0.043878620458411558835);
INSERT INTO weighing_contribution VALUES(9,3,15,59,0.17320508075688773041);
INSERT INTO weighing_contribution VALUES(9,3,16,117,1.864303119171168773e-18);
INSERT INTO weighing_contribution VALUES(9,3,17,118,2.6908897692613332867e-17);
INSERT INTO weighing_contribution VALUES(9,3,18,119,0.020000000000000000416);
INSERT INTO weighing_contribution VALUES(9,3,19,120,0.28867513459481292104);
INSERT INTO weighing_contribution VALUES(9,3,20,47,0.0);
INSERT INTO weighing_contribution VALUES(9,3,21,48,0.0);
INSERT INTO weighing_contribution VALUES(9,3,22,49,0.0);
INSERT INTO weighing_contribution VALUES(9,3,23,50,0.0);
INSERT INTO weighing_contribution VALUES(9,3,24,51,0.0);
INSERT INTO weighing_contribution VALUES(9,3,25,52,0.0);
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
CREATE TABLE raised_basis (
  weighing INTEGER PRIMARY KEY REFERENCES weighing ON DELETE CASCADE,
  layout INTEGER REFERENCES layout,
  total_kg REAL,
  u_total_kg REAL,
  error_share_of_capacity REAL NOT NULL,
  zero_drift_share_of_capacity REAL NOT NULL,
  temperature_share_of_load REAL NOT NULL,
  extrapolation_share_of_excess REAL NOT NULL,
  capacity_of_load REAL NOT NULL
) STRICT;
INSERT INTO raised_basis VALUES(7,NULL,1402.0,2.0,0.0005000000000000000104,0.00020000000000000000958,0.00020000000000000000958,0.0010000000000000000208,2.0);
INSERT INTO raised_basis VALUES(8,2,NULL,NULL,0.00040000000000000001916,0.00020000000000000000958,0.00020000000000000000958,0.0010000000000000000208,2.0);
INSERT INTO raised_basis VALUES(9,3,NULL,NULL,0.0005000000000000000104,0.00020000000000000000958,0.00020000000000000000958,0.0010000000000000000208,2.0);
CREATE TABLE raised_reading (
  weighing INTEGER NOT NULL REFERENCES raised_basis ON DELETE CASCADE,
  place INTEGER NOT NULL,
  corner TEXT NOT NULL,
  taken_as TEXT NOT NULL,
  rise_fl_m REAL NOT NULL,
  rise_fr_m REAL NOT NULL,
  rise_rl_m REAL NOT NULL,
  rise_rr_m REAL NOT NULL,
  u_rise_fl_m REAL NOT NULL,
  u_rise_fr_m REAL NOT NULL,
  u_rise_rl_m REAL NOT NULL,
  u_rise_rr_m REAL NOT NULL,
  at_wheel_centre TEXT NOT NULL,
  typed_kg REAL,
  u_typed_kg REAL NOT NULL,
  kept_because TEXT,
  PRIMARY KEY (weighing, place)
) STRICT, WITHOUT ROWID;
INSERT INTO raised_reading VALUES(7,0,'FL','still',0.050000000000000002775,0.050000000000000002775,0.0,0.0,0.0010000000000000000208,0.0015000000000000000312,0.0,0.0,'FL',402.5,0.29999999999999998889,NULL);
INSERT INTO raised_reading VALUES(7,1,'FR','still',0.050000000000000002775,0.050000000000000002775,0.0,0.0,0.0010000000000000000208,0.0015000000000000000312,0.0,0.0,'FL',402.5,0.29999999999999998889,NULL);
INSERT INTO raised_reading VALUES(7,2,'RR','still',0.0,0.0,0.0,0.050000000000000002775,0.0,0.0,0.0,0.0010000000000000000208,'RR',320.0,0.29999999999999998889,NULL);
INSERT INTO raised_reading VALUES(7,3,'RL','still',0.0,0.0,0.050000000000000002775,0.0,0.0,0.0,0.0,0.0010000000000000000208,'RR',320.0,0.29999999999999998889,NULL);
INSERT INTO raised_reading VALUES(8,0,'FL','empty',0.050000000000000002775,0.050000000000000002775,0.0,0.0,0.0010000000000000000208,0.0015000000000000000312,0.0,0.0,'FL',NULL,0.0,NULL);
INSERT INTO raised_reading VALUES(8,1,'FL','pushed-down',0.050000000000000002775,0.050000000000000002775,0.0,0.0,0.0010000000000000000208,0.0015000000000000000312,0.0,0.0,'FL',NULL,0.0,NULL);
INSERT INTO raised_reading VALUES(8,2,'FL','lifted-up',0.050000000000000002775,0.050000000000000002775,0.0,0.0,0.0010000000000000000208,0.0015000000000000000312,0.0,0.0,'FL',NULL,0.0,NULL);
INSERT INTO raised_reading VALUES(8,3,'FR','empty',0.050000000000000002775,0.050000000000000002775,0.0,0.0,0.0010000000000000000208,0.0015000000000000000312,0.0,0.0,'FL',NULL,0.0,NULL);
INSERT INTO raised_reading VALUES(8,4,'FR','still',0.050000000000000002775,0.050000000000000002775,0.0,0.0,0.0010000000000000000208,0.0015000000000000000312,0.0,0.0,'FL',NULL,0.0,'wind');
INSERT INTO raised_reading VALUES(8,5,'FR','still',0.050000000000000002775,0.050000000000000002775,0.0,0.0,0.0010000000000000000208,0.0015000000000000000312,0.0,0.0,'FL',NULL,0.0,NULL);
INSERT INTO raised_reading VALUES(9,0,'FL','still',0.0,0.0,0.0,0.0,0.0010000000000000000208,0.0015000000000000000312,0.0,0.0,'',NULL,0.0,NULL);
INSERT INTO raised_reading VALUES(9,1,'FR','still',0.0,0.0,0.0,0.0,0.0010000000000000000208,0.0015000000000000000312,0.0,0.0,'',NULL,0.0,NULL);
INSERT INTO raised_reading VALUES(9,2,'RL','still',0.0,0.0,0.0,0.0,0.0010000000000000000208,0.0015000000000000000312,0.0,0.0,'',NULL,0.0,NULL);
INSERT INTO raised_reading VALUES(9,3,'RR','still',0.0,0.0,0.0,0.0,0.0010000000000000000208,0.0015000000000000000312,0.0,0.0,'',NULL,0.0,NULL);
CREATE TABLE raised_cell (
  weighing INTEGER NOT NULL,
  reading INTEGER NOT NULL,
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
  PRIMARY KEY (weighing, reading, place),
  FOREIGN KEY (weighing, reading) REFERENCES raised_reading ON DELETE CASCADE
) STRICT, WITHOUT ROWID;
INSERT INTO raised_cell VALUES(8,0,0,'B1:1',NULL,6,'ok','settled',1300.0,2.0,40.0,0.10000000000000000555,18.0,100,1,10003003);
INSERT INTO raised_cell VALUES(8,0,1,'B1:2',NULL,7,'ok','settled',2300.0,2.0,40.0,0.10000000000000000555,18.0,100,1,10003004);
INSERT INTO raised_cell VALUES(8,0,2,'B1:3',NULL,8,'ok','settled',3300.0,2.0,40.0,0.10000000000000000555,18.0,100,1,10003005);
INSERT INTO raised_cell VALUES(8,0,3,'B1:4',NULL,9,'ok','settled',4300.0,2.0,40.0,0.10000000000000000555,18.0,100,1,10003006);
INSERT INTO raised_cell VALUES(8,1,0,'B1:1',NULL,6,'ok','settled',11300.0,2.0,40.0,0.10000000000000000555,18.0,100,1,10103001);
INSERT INTO raised_cell VALUES(8,1,1,'B1:2',NULL,7,'ok','settled',11800.0,2.0,40.0,0.10000000000000000555,18.0,100,1,10103002);
INSERT INTO raised_cell VALUES(8,1,2,'B1:3',NULL,8,'ok','settled',14000.0,2.0,40.0,0.10000000000000000555,18.0,100,1,10103003);
INSERT INTO raised_cell VALUES(8,1,3,'B1:4',NULL,9,'ok','settled',14100.0,2.0,40.0,0.10000000000000000555,18.0,100,1,10103004);
INSERT INTO raised_cell VALUES(8,2,0,'B1:1',NULL,6,'ok','settled',11350.0,2.0,40.0,0.10000000000000000555,18.0,100,1,10103502);
INSERT INTO raised_cell VALUES(8,2,1,'B1:2',NULL,7,'ok','settled',11800.0,2.0,40.0,0.10000000000000000555,18.0,100,1,10103503);
INSERT INTO raised_cell VALUES(8,2,2,'B1:3',NULL,8,'ok','settled',14000.0,2.0,40.0,0.10000000000000000555,18.0,100,1,10103504);
INSERT INTO raised_cell VALUES(8,2,3,'B1:4',NULL,9,'ok','settled',14150.0,2.0,40.0,0.10000000000000000555,18.0,100,1,10103505);
INSERT INTO raised_cell VALUES(8,3,0,'B1:1',NULL,6,'ok','settled',1310.0,2.0,40.0,0.10000000000000000555,18.0,100,1,10003103);
INSERT INTO raised_cell VALUES(8,3,1,'B1:2',NULL,7,'ok','settled',2300.0,2.0,40.0,0.10000000000000000555,18.0,100,1,10003104);
INSERT INTO raised_cell VALUES(8,3,2,'B1:3',NULL,8,'ok','settled',3300.0,2.0,40.0,0.10000000000000000555,18.0,100,1,10003105);
INSERT INTO raised_cell VALUES(8,3,3,'B1:4',NULL,9,'ok','settled',4300.0,2.0,40.0,0.10000000000000000555,18.0,100,1,10003106);
INSERT INTO raised_cell VALUES(8,4,0,'B1:1',NULL,6,'ok','settled',10000.0,2.0,40.0,0.10000000000000000555,18.0,100,1,10090000);
INSERT INTO raised_cell VALUES(8,4,1,'B1:2',NULL,7,'ok','settled',11800.0,2.0,40.0,0.10000000000000000555,18.0,100,1,10090001);
INSERT INTO raised_cell VALUES(8,4,2,'B1:3',NULL,8,'ok','settled',12900.0,2.0,40.0,0.10000000000000000555,18.0,100,1,10090002);
INSERT INTO raised_cell VALUES(8,4,3,'B1:4',NULL,9,'ok','settled',14100.0,2.0,40.0,0.10000000000000000555,18.0,100,1,10090003);
INSERT INTO raised_cell VALUES(8,5,0,'B1:1',NULL,6,'ok','settled',10050.0,2.0,40.0,0.10000000000000000555,18.0,100,1,10090500);
INSERT INTO raised_cell VALUES(8,5,1,'B1:2',NULL,7,'ok','settled',11800.0,2.0,40.0,0.10000000000000000555,18.0,100,1,10090501);
INSERT INTO raised_cell VALUES(8,5,2,'B1:3',NULL,8,'ok','settled',12950.0,2.0,40.0,0.10000000000000000555,18.0,100,1,10090502);
INSERT INTO raised_cell VALUES(8,5,3,'B1:4',NULL,9,'ok','settled',14100.0,2.0,40.0,0.10000000000000000555,18.0,100,1,10090503);
INSERT INTO raised_cell VALUES(9,0,0,'B1:1',NULL,6,'ok','settled',41000.0,2.0,40.0,0.10000000000000000555,18.0,100,1,20000000);
INSERT INTO raised_cell VALUES(9,1,0,'B1:2',NULL,7,'ok','settled',40000.0,2.0,40.0,0.10000000000000000555,18.0,100,1,20000002);
INSERT INTO raised_cell VALUES(9,2,0,'B1:1',NULL,6,'ok','settled',41000.0,2.0,40.0,0.10000000000000000555,18.0,100,1,20000002);
INSERT INTO raised_cell VALUES(9,3,0,'B1:2',NULL,7,'ok','settled',40000.0,2.0,40.0,0.10000000000000000555,18.0,100,1,20000004);
CREATE INDEX record_by_time ON record (time_utc);
CREATE INDEX weighing_by_vehicle ON weighing (vehicle);
CREATE INDEX weighing_by_board ON weighing_board (board);
CREATE INDEX contribution_by_cause ON weighing_contribution (cause);
CREATE INDEX rig_by_layout ON rig_basis (layout);
CREATE INDEX reading_by_calibration ON cell_reading (calibration);
CREATE INDEX calibration_by_held ON calibration (held);
CREATE INDEX record_by_name ON record (name COLLATE NOCASE, kind, time_utc);
CREATE INDEX raised_by_layout ON raised_basis (layout);
CREATE INDEX raised_by_calibration ON raised_cell (calibration);
COMMIT;
