using System.Diagnostics;
using System.Globalization;
using Xunit;

namespace ConsultDesk.Web.Tests.Faults;

/// <summary>A small disk of the test's own (tmpfs), which it can fill to the last byte. Mounting it needs root: elsewhere the test is skipped, or fails with CI=true.</summary>
public sealed class TightDisk : IDisposable
{
    private TightDisk(string folder) => Folder = folder;

    /// <summary>Where it is.</summary>
    public string Folder { get; }

    private string Filler => Path.Combine(Folder, "filler");

    public static TightDisk Mount(int megabytes)
    {
        var folder = Directory.CreateTempSubdirectory("consultdesk-disk-").FullName;
        if (Run("mount", "-t", "tmpfs", "-o", string.Create(CultureInfo.InvariantCulture, $"size={megabytes}m"), "tmpfs", folder) is { } error)
        {
            Directory.Delete(folder);
            var missing = "A small disk cannot be mounted here: " + error;
            Assert.False(Environment.GetEnvironmentVariable("CI") == "true", missing);
            Assert.Skip(missing);
        }

        return new(folder);
    }

    /// <summary>Writes until not a byte is left.</summary>
    public void Fill()
    {
        using var file = new FileStream(Filler, FileMode.Create, FileAccess.Write, FileShare.None, bufferSize: 0);
        var block = new byte[64 * 1024];
        for (var size = block.Length; size > 0;)
        {
            try
            {
                file.Write(block, 0, size);
            }
            catch (IOException)
            {
                size /= 2;
            }
        }
    }

    /// <summary>Makes room again.</summary>
    public void MakeRoom() => File.Delete(Filler);

    public void Dispose()
    {
        if (Run("umount", "--lazy", Folder) is { } error)
        {
            throw new InvalidOperationException(error);
        }

        Directory.Delete(Folder);
    }

    private static string? Run(string program, params string[] arguments)
    {
        using var process = Process.Start(new ProcessStartInfo(program, arguments) { RedirectStandardError = true })!;
        var error = process.StandardError.ReadToEnd();
        process.WaitForExit();
        return process.ExitCode == 0 ? null : error.Trim();
    }
}
