using System.Collections.Immutable;
using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;

namespace ConsultDesk.Calculations.Lanes;

/// <summary>How many vans are run side by side when nobody says otherwise, and what it was chosen by.</summary>
/// <param name="Width">8, 4 or 1.</param>
/// <param name="Measured">What one van's share of a piece of arithmetic took at each width the processor has registers for; empty when nobody gave a clock.</param>
public sealed record LaneChoice(int Width, ImmutableArray<LaneTime> Measured);

/// <summary>What one van's share of a piece of arithmetic took.</summary>
/// <param name="Width">Vans side by side.</param>
/// <param name="Nanoseconds">Least of several passes.</param>
public sealed record LaneTime(int Width, double Nanoseconds);

/// <summary>Chooses how many vans are run side by side: by a short measurement before the first batch. No result depends on it.</summary>
/// <remarks>
/// Calculations read no clock of their own: who starts the program gives one. Without it the widest register decides. What is measured is no year, which
/// would first have to be compiled for every width, but the arithmetic of one in small: saturation from the table, films, a small system of rooms.
/// </remarks>
public static class LaneWidth
{
    // The widths in turn, so that what else runs on the machine falls on all of them; the least of each counts. About 50 ms in all, compiling included.
    private const int Passes = 24;
    private const int Rounds = 400;

    private const int Rooms = 4;
    private const int Faces = 12;
    private const int Rows = 64;

    private static readonly Lazy<LaneChoice> First = new(() => Clock is TimeProvider clock ? Told(Measure(clock, Possible)) : new LaneChoice(Possible[^1], []));

    /// <summary>Widths the equations are compiled for.</summary>
    public static ImmutableArray<int> All { get; } = [1, 4, 8];

    /// <summary>Those of them the processor has registers for; never empty.</summary>
    public static ImmutableArray<int> Possible { get; } =
        [.. All.Where(width => width == 1 || (width == 4 && Vector256.IsHardwareAccelerated) || (width == 8 && Vector512.IsHardwareAccelerated))];

    /// <summary>What is chosen; measured when it is first asked for, which takes some hundredths of a second once.</summary>
    public static LaneChoice Chosen => First.Value;

    /// <summary>8, 4 or 1.</summary>
    public static int Best => Chosen.Width;

    private static TimeProvider? Clock { get; set; }

    private static Action<LaneChoice>? Tell { get; set; }

    /// <summary>Gives the clock the first batch is preceded by a measurement with. Nothing is measured yet, and what is chosen already stays.</summary>
    /// <param name="clock">The clock.</param>
    /// <param name="tell">Told the choice once, from the thread of the first batch.</param>
    public static void MeasureBeforeFirstBatch(TimeProvider clock, Action<LaneChoice>? tell = null)
    {
        ArgumentNullException.ThrowIfNull(clock);
        (Tell, Clock) = (tell, clock);
    }

    /// <summary>Measures widths.</summary>
    internal static LaneChoice Measure(TimeProvider clock, ImmutableArray<int> widths)
    {
        double[] least = [.. widths.Select(_ => double.PositiveInfinity)];
        for (int pass = 0; pass < Passes; pass++)
        {
            for (int at = 0; at < widths.Length; at++)
            {
                long from = clock.GetTimestamp();
                FromFurtherDown(16 * (pass % 4), widths[at]);
                least[at] = Math.Min(least[at], clock.GetElapsedTime(from).TotalNanoseconds / (Rounds * widths[at]));
            }
        }

        // Of equals the wider: what is done once for all vans of a batch is not in it.
        return new LaneChoice(
            widths[Enumerable.Range(0, widths.Length).MinBy(at => (least[at], -widths[at]))],
            [.. widths.Select((width, at) => new LaneTime(width, least[at]))]);
    }

    private static LaneChoice Told(LaneChoice choice)
    {
        Tell?.Invoke(choice);
        return choice;
    }

    // A register put aside on the stack may lie across two lines of the cache, as chance has it in a program: each of the four ways it can lie has its turn.
    [MethodImpl(MethodImplOptions.NoInlining)]
    private static void FromFurtherDown(int bytes, int width)
    {
        Span<byte> room = stackalloc byte[bytes];
        room.Clear();
        Work(width);
    }

    [MethodImpl(MethodImplOptions.NoInlining)]
    private static void Work(int width)
    {
        double sum = width switch
        {
            1 => Work(Place<ScalarLane>()),
            4 => Work(Place<FourLanes>()),
            _ => Work(Place<EightLanes>()),
        };
        if (!double.IsFinite(sum))
        {
            throw new InvalidOperationException("What is measured is no calculation.");
        }
    }

    // As a batch has it: begun at a whole register. Where it is not, twice the time is measured.
    private static Span<TLane> Place<TLane>()
        where TLane : struct, ILane<TLane> =>
        new Aligned<TLane>((2 * Rooms) + (2 * Faces) + (Rooms * Rooms), TLane.Count * sizeof(double)).Span;

    // Compiled at its best at once. It has the sums, products, comparisons and quotients of a year's step in about their numbers, and waits for its own results as that does.
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static double Work<TLane>(Span<TLane> place)
        where TLane : struct, ILane<TLane>
    {
        Span<double> table = stackalloc double[4 * Rows];
        for (int number = 0; number < table.Length; number++)
        {
            table[number] = 1 / (1.0 + number);
        }

        Span<TLane> rooms = place[..Rooms];
        Span<TLane> right = place[Rooms..(2 * Rooms)];
        Span<TLane> faces = place.Slice(2 * Rooms, 2 * Faces);
        Span<TLane> matrix = place[^(Rooms * Rooms)..];
        rooms.Fill(TLane.Of(15));
        faces.Fill(TLane.Of(5));
        TLane outdoor = TLane.Of(2);
        TLane exchange = TLane.Of(0.01);
        for (int round = 0; round < Rounds; round++)
        {
            for (int i = 0; i < Rooms; i++)
            {
                for (int j = 0; j < Rooms; j++)
                {
                    matrix[(i * Rooms) + j] = TLane.Of(i == j ? 4 : -0.5);
                }

                right[i] = TLane.MultiplyAdd(rooms[i], TLane.Of(2), outdoor);
            }

            for (int k = 0; k < Faces; k++)
            {
                int room = k % Rooms;
                TLane face = faces[k];
                TLane row = TLane.Min(TLane.Max(TLane.Truncate(face), TLane.Zero), TLane.Of(Rows - 1));
                TLane.Row(table, row, out TLane a, out TLane b, out TLane c, out TLane d);
                TLane part = face - row;
                TLane saturation = TLane.MultiplyAdd(TLane.MultiplyAdd(TLane.MultiplyAdd(d, part, c), part, b), part, a);
                TLane flux = exchange * (TLane.MultiplyAdd(rooms[room], TLane.Of(0.05), TLane.Zero) - saturation);
                TLane film = faces[Faces + k];
                TLane drying = TLane.Less(film + flux, TLane.Zero);
                flux = TLane.Select(drying, -film, flux);
                faces[Faces + k] = film + flux;
                faces[k] = TLane.MultiplyAdd(exchange, TLane.MultiplyAdd(flux, TLane.Of(2), rooms[room] + outdoor - face - face), face);
                right[room] = TLane.SubtractProduct(right[room], exchange, flux);
                matrix[room * (Rooms + 1)] = TLane.MultiplyAdd(exchange, exchange, matrix[room * (Rooms + 1)]);
            }

            for (int k = 0; k < Rooms; k++)
            {
                TLane inverse = TLane.Of(1) / matrix[(k * Rooms) + k];
                matrix[(k * Rooms) + k] = inverse;
                for (int i = k + 1; i < Rooms; i++)
                {
                    TLane factor = matrix[(i * Rooms) + k] * inverse;
                    right[i] = TLane.SubtractProduct(right[i], factor, right[k]);
                    for (int j = k + 1; j < Rooms; j++)
                    {
                        matrix[(i * Rooms) + j] = TLane.SubtractProduct(matrix[(i * Rooms) + j], factor, matrix[(k * Rooms) + j]);
                    }
                }
            }

            for (int i = Rooms - 1; i >= 0; i--)
            {
                TLane value = right[i];
                for (int j = i + 1; j < Rooms; j++)
                {
                    value = TLane.SubtractProduct(value, matrix[(i * Rooms) + j], rooms[j]);
                }

                rooms[i] = value * matrix[(i * Rooms) + i];
            }
        }

        return rooms[0][0];
    }
}
