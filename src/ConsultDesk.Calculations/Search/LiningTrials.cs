using System.Collections.Immutable;
using ConsultDesk.Calculations.Climate;
using ConsultDesk.Calculations.Envelope;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;

namespace ConsultDesk.Calculations.Search;

/// <summary>A lined part of the van.</summary>
public enum LinedPart
{
    /// <summary>Side walls, doors.</summary>
    Walls,

    /// <summary>Roof.</summary>
    Roof,

    /// <summary>Floor.</summary>
    Floor,
}

/// <summary>One part through the year with the gaps of its lining as they are or otherwise.</summary>
/// <param name="Gaps">How room air gets past the lining.</param>
/// <param name="Stands">True for the gaps the design has.</param>
/// <param name="Check">The part through the year.</param>
/// <param name="WetMornings">The whole van's wet mornings with it: a lining that takes up water takes it from the panes.</param>
public sealed record LiningTrial(LiningGaps Gaps, bool Stands, WallCheck Check, WetMornings WetMornings);

/// <summary>"Sealed or breathing": the same part with each way room air can get past its lining, each over the whole year.</summary>
public static class LiningTrials
{
    /// <summary>Calculates the whole year once for each way.</summary>
    /// <param name="design">A valid design; parts for later are left out.</param>
    /// <param name="part">The part whose lining is changed; all else stays.</param>
    /// <param name="hours">Hours of the weather files that places of the design name; where they are missing the months are used.</param>
    /// <param name="progress">Told the share done, 0 to 1.</param>
    /// <param name="cancellation">Stops the work.</param>
    /// <returns>From the tightest to the most open.</returns>
    /// <exception cref="CalculationFailedException">A year does not balance.</exception>
    public static ImmutableArray<LiningTrial> Of(
        Design design, LinedPart part, WeatherHours hours, IProgress<double>? progress = null, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(design);
        Design now = LaterParts.Without(design);
        YearWeather weather = YearWeather.Of(now, hours: hours);
        LiningGaps[] ways = Enum.GetValues<LiningGaps>();
        ImmutableArray<LiningTrial>.Builder trials = ImmutableArray.CreateBuilder<LiningTrial>(ways.Length);
        foreach (LiningGaps gaps in ways)
        {
            YearAssessment year = Assessor.AssessYear(With(now, part, gaps), weather, Assumptions.Likely, progress: null, cancellation);
            trials.Add(new LiningTrial(gaps, Of(now, part).Gaps == gaps, year.Walls.Single(check => check.Part == part.ToString()), year.WetMornings));
            progress?.Report((double)trials.Count / ways.Length);
        }

        return trials.MoveToImmutable();
    }

    /// <summary>The assembly of a part.</summary>
    public static LayeredAssembly Of(Design design, LinedPart part)
    {
        ArgumentNullException.ThrowIfNull(design);
        return part switch
        {
            LinedPart.Walls => design.Walls,
            LinedPart.Roof => design.Roof,
            LinedPart.Floor => design.Floor,
            _ => throw new ArgumentOutOfRangeException(nameof(part), part, "Expected walls, roof or floor."),
        };
    }

    /// <summary>The design with other gaps in the lining of a part.</summary>
    public static Design With(Design design, LinedPart part, LiningGaps gaps)
    {
        LayeredAssembly changed = Of(design, part) with { Gaps = gaps };
        return part switch
        {
            LinedPart.Walls => design with { Walls = changed },
            LinedPart.Roof => design with { Roof = changed },
            _ => design with { Floor = changed },
        };
    }
}
