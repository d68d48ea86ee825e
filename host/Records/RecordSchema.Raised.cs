namespace Fourpatch.Records;

/// <summary>Tables of weighings with wheels raised.</summary>
internal static partial class RecordSchema
{
    /// <summary>One dolly going round, or two pads: what stood how high, and what was read.</summary>
    private const string RaisedWheels = """
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
        CREATE INDEX raised_by_layout ON raised_basis (layout);
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
        CREATE INDEX raised_by_calibration ON raised_cell (calibration);
        """;
}
