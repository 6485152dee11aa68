using System.Reflection;

namespace ConsultDesk.Calculations;

/// <summary>The tables embedded in this library: comma-separated, a heading row, no quotes and no commas inside a cell.</summary>
internal static class EmbeddedTable
{
    /// <summary>The rows of a table without its heading.</summary>
    /// <param name="name">Path below the project with dots, for example <c>Vehicle.defaults.csv</c>.</param>
    /// <param name="columns">Cells every row must have.</param>
    /// <exception cref="InvalidOperationException">The table is missing or a row has another number of cells.</exception>
    public static IEnumerable<string[]> Rows(string name, int columns)
    {
        Assembly assembly = typeof(EmbeddedTable).Assembly;
        using Stream stream = assembly.GetManifestResourceStream("ConsultDesk.Calculations." + name)
            ?? throw new InvalidOperationException($"The table {name} is not embedded.");
        using StreamReader reader = new(stream);
        reader.ReadLine();
        while (reader.ReadLine() is string line)
        {
            string[] cells = line.Split(',');
            if (cells.Length != columns)
            {
                throw new InvalidOperationException($"The table {name} has {cells.Length} cells instead of {columns} in the row '{line}'.");
            }

            yield return cells;
        }
    }
}
