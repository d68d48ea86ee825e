using System.Globalization;
using Microsoft.Data.Sqlite;

namespace Fourpatch.Records;

/// <summary>Statements of one connection: each text is prepared once. Values stand for $1, $2 and so on. Not thread-safe.</summary>
internal sealed class Rows(SqliteConnection connection) : IDisposable
{
    private readonly Dictionary<string, SqliteCommand> _prepared = [];

    /// <summary>Runs a statement.</summary>
    /// <returns>Rows changed.</returns>
    public int Run(string sql, params ReadOnlySpan<object?> values) => Prepared(sql, values).ExecuteNonQuery();

    /// <summary>Inserts one row with a value for every column in their order, and returns its number.</summary>
    public long Insert(string table, params ReadOnlySpan<object?> values)
    {
        string marks = string.Join(", ", Enumerable.Range(1, values.Length).Select(number => "$" + number.ToString(CultureInfo.InvariantCulture)));
        Run($"INSERT INTO {table} VALUES ({marks})", values);
        return One("SELECT last_insert_rowid()", row => row.GetInt64(0));
    }

    /// <summary>The number of a row that many records share: found by its columns, or inserted.</summary>
    /// <param name="table">Has the column number and the columns named.</param>
    /// <param name="columns">Columns that together are unique.</param>
    /// <param name="values">One for each.</param>
    public long Shared(string table, string[] columns, params ReadOnlySpan<object?> values)
    {
        string[] marks = [.. Enumerable.Range(1, columns.Length).Select(number => "$" + number.ToString(CultureInfo.InvariantCulture))];
        string where = string.Join(" AND ", columns.Zip(marks, (column, mark) => $"{column} = {mark}"));
        List<long> found = All($"SELECT number FROM {table} WHERE {where}", row => row.GetInt64(0), values);
        if (found is [long number])
        {
            return number;
        }

        Run($"INSERT INTO {table} ({string.Join(", ", columns)}) VALUES ({string.Join(", ", marks)})", values);
        return One("SELECT last_insert_rowid()", row => row.GetInt64(0));
    }

    /// <summary>Every row, read to the end before this returns.</summary>
    /// <exception cref="BadRecordException">A row lacks what it must have: what it points to is gone.</exception>
    public List<T> All<T>(string sql, Func<SqliteDataReader, T> read, params ReadOnlySpan<object?> values)
    {
        using SqliteDataReader reader = Prepared(sql, values).ExecuteReader();
        var all = new List<T>();
        try
        {
            while (reader.Read())
            {
                all.Add(read(reader));
            }
        }
        catch (InvalidOperationException)
        {
            throw new BadRecordException("a part of it is missing");
        }

        return all;
    }

    /// <summary>The first row.</summary>
    /// <exception cref="BadRecordException">There is none.</exception>
    public T One<T>(string sql, Func<SqliteDataReader, T> read, params ReadOnlySpan<object?> values) =>
        All(sql, read, values) is [var first, ..] ? first : throw new BadRecordException("a part of it is missing");

    /// <inheritdoc/>
    public void Dispose()
    {
        foreach (SqliteCommand command in _prepared.Values)
        {
            command.Dispose();
        }
    }

    private SqliteCommand Prepared(string sql, ReadOnlySpan<object?> values)
    {
        if (!_prepared.TryGetValue(sql, out SqliteCommand? command))
        {
            command = connection.CreateCommand();
            command.CommandText = sql;
            for (int number = 1; number <= values.Length; number++)
            {
                command.Parameters.Add(new SqliteParameter { ParameterName = "$" + number.ToString(CultureInfo.InvariantCulture) });
            }

            _prepared.Add(sql, command);
        }

        for (int index = 0; index < values.Length; index++)
        {
            command.Parameters[index].Value = values[index] ?? DBNull.Value;
        }

        return command;
    }
}

/// <summary>Columns that may be null.</summary>
internal static class RowColumns
{
    public static double? NumberOrNull(this SqliteDataReader row, int column) => row.IsDBNull(column) ? null : row.GetDouble(column);

    public static string? TextOrNull(this SqliteDataReader row, int column) => row.IsDBNull(column) ? null : row.GetString(column);
}
