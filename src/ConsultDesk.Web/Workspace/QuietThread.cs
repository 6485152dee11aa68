using System.Runtime.InteropServices;

namespace ConsultDesk.Web.Workspace;

/// <summary>
/// A thread for work that nobody's finger waits for. It leaves the pool to pages and edits, which would otherwise wait until the pool sees that it is short of threads, and
/// the system gives it what processor time they leave.
/// </summary>
internal static class QuietThread
{
    /// <summary>
    /// Added on Linux, where .NET does not pass a thread's priority on, to the niceness of the program: about a tenth of what its other threads get when all want all.
    /// Our judgement.
    /// </summary>
    public const int Niceness = 10;

    /// <summary>Starts it.</summary>
    /// <param name="name">For whoever looks at the process.</param>
    /// <param name="work">Lets no exception out: one would end the program.</param>
    public static void Start(string name, Action work)
    {
        var thread = new Thread(() =>
        {
            if (OperatingSystem.IsLinux())
            {
                // Refused, as by a system that forbids the call, it is only as urgent as the rest.
                _ = Nice(Niceness);
            }

            work();
        })
        {
            Name = name,
            IsBackground = true,
            Priority = ThreadPriority.BelowNormal,
        };
        thread.Start();
    }

    // Of the calling thread alone: Linux keeps niceness by thread.
    [DllImport("libc", EntryPoint = "nice")]
    [DefaultDllImportSearchPaths(DllImportSearchPath.SafeDirectories)]
    private static extern int Nice(int more);
}
