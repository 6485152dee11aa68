namespace ConsultDesk.Web.Tests.Architecture;

/// <summary>The source tree the tests were built from.</summary>
internal static class Repository
{
    /// <summary>Folder with the solution.</summary>
    public static string Root { get; } = Find();

    /// <summary>Full path of a file or folder.</summary>
    public static string At(params string[] parts) => Path.Combine([Root, .. parts]);

    /// <summary>Files of ours below a folder, build output apart.</summary>
    public static IEnumerable<string> Files(string folder, string pattern) =>
        Directory.EnumerateFiles(At(folder), pattern, SearchOption.AllDirectories)
            .Where(path => !path.Split(Path.DirectorySeparatorChar).Any(part => part is "artifacts" or "bin" or "obj" or "node_modules"));

    private static string Find()
    {
        for (var folder = new DirectoryInfo(AppContext.BaseDirectory); folder is not null; folder = folder.Parent)
        {
            if (File.Exists(Path.Combine(folder.FullName, "ConsultDesk.sln")))
            {
                return folder.FullName;
            }
        }

        throw new InvalidOperationException("No ConsultDesk.sln above " + AppContext.BaseDirectory);
    }
}
