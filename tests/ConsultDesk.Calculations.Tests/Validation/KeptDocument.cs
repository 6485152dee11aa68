using Xunit;

namespace ConsultDesk.Calculations.Tests.Validation;

/// <summary>A document in docs/ that tests write: compared in memory, rewritten only on demand.</summary>
internal static class KeptDocument
{
    private const string Accept = "ACCEPT_VALIDATION";

    /// <summary>Fails where the kept document differs, or rewrites it when ACCEPT_VALIDATION is 1.</summary>
    /// <param name="file">Path below the repository's root.</param>
    /// <param name="now">What it should say.</param>
    public static void Compare(string file, string now)
    {
        string path = Path.Combine(RepositoryRoot(), file);
        if (Environment.GetEnvironmentVariable(Accept) == "1")
        {
            File.WriteAllText(path, now);
            return;
        }

        string kept = File.Exists(path) ? File.ReadAllText(path).ReplaceLineEndings("\n") : "";
        if (kept == now)
        {
            return;
        }

        string[] keptLines = kept.Split('\n');
        string[] nowLines = now.Split('\n');
        int line = Enumerable.Range(0, Math.Max(keptLines.Length, nowLines.Length))
            .First(i => keptLines.ElementAtOrDefault(i) != nowLines.ElementAtOrDefault(i));
        Assert.Fail($"{file} differs from line {line + 1}; read the change, then accept it with {Accept}=1.\n"
            + $"kept: {keptLines.ElementAtOrDefault(line)}\nnow:  {nowLines.ElementAtOrDefault(line)}");
    }

    private static string RepositoryRoot()
    {
        DirectoryInfo? folder = new(AppContext.BaseDirectory);
        while (folder is not null && !File.Exists(Path.Combine(folder.FullName, "ConsultDesk.sln")))
        {
            folder = folder.Parent;
        }

        return folder?.FullName ?? throw new InvalidOperationException("ConsultDesk.sln was not found above the tests.");
    }
}
