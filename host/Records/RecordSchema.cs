using Microsoft.Data.Sqlite;

namespace Fourpatch.Records;

/// <summary>The tables of the file of records, as steps from one version to the next. A step that was ever released is never changed.</summary>
internal static partial class RecordSchema
{
    /// <summary>Stands in the file's head, so that no other program's file is taken for ours: "FPRC".</summary>
    public const int ApplicationId = 0x46505243;

    /// <summary>Version 1: weighings, with what they were computed from. Texts that many weighings share (vehicle, layout, calibration, cause) are kept once.</summary>
    private const string Version1 = """
        CREATE TABLE record (
          number INTEGER PRIMARY KEY,
          id TEXT NOT NULL UNIQUE,
          sha256 BLOB NOT NULL UNIQUE,
          kind TEXT NOT NULL,
          name TEXT NOT NULL,
          time_utc TEXT NOT NULL,
          software_version TEXT NOT NULL
        ) STRICT;
        CREATE INDEX record_by_time ON record (time_utc);
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
        CREATE INDEX weighing_by_vehicle ON weighing (vehicle);
        CREATE TABLE weighing_board (
          weighing INTEGER NOT NULL REFERENCES weighing ON DELETE CASCADE,
          place INTEGER NOT NULL,
          board INTEGER NOT NULL REFERENCES board,
          PRIMARY KEY (weighing, place)
        ) STRICT, WITHOUT ROWID;
        CREATE INDEX weighing_by_board ON weighing_board (board);
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
        CREATE INDEX contribution_by_cause ON weighing_contribution (cause);
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
        CREATE INDEX rig_by_layout ON rig_basis (layout);
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
        CREATE INDEX reading_by_calibration ON cell_reading (calibration);
        """;

    /// <summary>Version 2: calibrations with the readings they came from; why a refused weighing was kept.</summary>
    private const string Version2 = """
        ALTER TABLE weighing ADD COLUMN kept_because TEXT;
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
        CREATE INDEX calibration_by_held ON calibration (held);
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
        """;

    /// <summary>Version 3: documents of other kinds, with what they were computed from and what was answered; work that is not finished yet.</summary>
    private const string Version3 = """
        CREATE TABLE document (
          record INTEGER PRIMARY KEY REFERENCES record ON DELETE CASCADE,
          subject TEXT NOT NULL,
          acceptable INTEGER NOT NULL,
          inputs TEXT NOT NULL,
          answer TEXT NOT NULL
        ) STRICT;
        CREATE INDEX record_by_name ON record (name COLLATE NOCASE, kind, time_utc);
        CREATE TABLE unfinished (
          key TEXT PRIMARY KEY,
          started_utc TEXT NOT NULL,
          updated_utc TEXT NOT NULL,
          state TEXT NOT NULL
        ) STRICT, WITHOUT ROWID;
        """;

    // Statements end in a semicolon at the end of a line, and have none elsewhere.
    private static readonly string[] Steps = [Version1, Version2, Version3, RaisedWheels];

    /// <summary>The version this program writes.</summary>
    public static int Current => Steps.Length;

    /// <summary>Brings a file to the current version, in one transaction.</summary>
    /// <param name="connection">An open connection.</param>
    /// <returns>The version it had; more than <see cref="Current"/> when a newer program wrote it, and then nothing is touched; -1 when it is no file of records.</returns>
    public static int Migrate(SqliteConnection connection)
    {
        // In one transaction, so that all it looks at is of one moment: another process may be making the tables.
        using (SqliteTransaction reading = connection.BeginTransaction(deferred: true))
        {
            if (VersionOf(connection) is var seen && (seen < 0 || seen >= Current))
            {
                return seen;
            }
        }

        // Another process may have migrated meanwhile: looked at again once the file is ours alone.
        using SqliteTransaction transaction = connection.BeginTransaction(deferred: false);
        int version = VersionOf(connection);
        for (int step = Math.Max(version, 0); version >= 0 && step < Current; step++)
        {
            // One at a time: of several in one command, an error behind the first result is swallowed by the library.
            foreach (string statement in Steps[step].Split(";\n", StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries))
            {
                Run(connection, statement.TrimEnd(';'));
            }

            Run(connection, FormattableString.Invariant($"PRAGMA user_version = {step + 1}"));
        }

        if (version == 0)
        {
            Run(connection, FormattableString.Invariant($"PRAGMA application_id = {ApplicationId}"));
        }

        transaction.Commit();
        return version;
    }

    private static int VersionOf(SqliteConnection connection)
    {
        long version = Ask(connection, "PRAGMA user_version");
        return Ask(connection, "PRAGMA application_id") == ApplicationId ? (int)version
            : version == 0 && Ask(connection, "SELECT count(*) FROM sqlite_schema") == 0 ? 0
            : -1;
    }

    private static long Ask(SqliteConnection connection, string sql)
    {
        using SqliteCommand command = connection.CreateCommand();
        command.CommandText = sql;
        return (long)command.ExecuteScalar()!;
    }

    private static void Run(SqliteConnection connection, string sql)
    {
        using SqliteCommand command = connection.CreateCommand();
        command.CommandText = sql;
        command.ExecuteNonQuery();
    }
}
