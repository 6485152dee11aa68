using System.Runtime.ExceptionServices;

namespace ConsultDesk.Calculations.Search;

/// <summary>Work on several cores whose results lie where their index says, so that no answer depends on who was first.</summary>
internal static class InOrder
{
    /// <summary>Does the work of each index; stops within one piece of work a core when asked to.</summary>
    public static void Each(int count, int threads, Action<int> work, CancellationToken cancellation)
    {
        if (threads == 1)
        {
            for (int index = 0; index < count; index++)
            {
                cancellation.ThrowIfCancellationRequested();
                work(index);
            }

            return;
        }

        try
        {
            Parallel.For(0, count, new ParallelOptions { MaxDegreeOfParallelism = threads, CancellationToken = cancellation }, work);
        }
        catch (AggregateException failed)
        {
            // What fails is told as it would be alone.
            ExceptionDispatchInfo.Throw(failed.Flatten().InnerExceptions[0]);
        }
    }
}
