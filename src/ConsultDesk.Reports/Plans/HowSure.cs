using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;
using ConsultDesk.Reports.Units;

namespace ConsultDesk.Reports.Plans;

/// <summary>How sure the numbers are, and what would make them surer.</summary>
internal sealed class HowSure(Design design, Assessment assessment, DisplayUnits units)
{
    /// <summary>The blocks of the section.</summary>
    public IEnumerable<PlanBlock> Blocks()
    {
        var facts = InputCatalogue.Of(design);
        int Number(Origin origin) => facts.Count(fact => fact.Origin == origin);
        yield return new PairsBlock(
        [
            new("What it rests on", $"{Number(Origin.Measured)} facts measured, {Number(Origin.Told)} told, {Number(Origin.Assumed)} assumed"),
            .. Widest() is { } band
                ? new[] { new PlanNumber(band.Label, $"{units.Format(band.Likely)}, and somewhere from {units.Format(band.Low)} to {units.Format(band.High)}; moved most by {Figures.ScoreFigure.Lower(band.MovedMostBy)}") }
                : [],
            new("Surest", "which of two ways is better, what a flame or a person gives off, what a layer lets through"),
            new("Least sure", "leaks of the body, wind at the van, air that passes from the cab, habits"),
            new("What would make it surer", "two meters read for a week in your own van, the three inside lengths by tape, and a look behind the lining"),
        ]);
    }

    /// <summary>The band that is widest for its size: what a reader should trust least.</summary>
    private HeadlineBand? Widest() => assessment.Bands.IsEmpty ? null : assessment.Bands.MaxBy(band =>
    {
        var (low, likely, high) = ((double)band.Low.Value, (double)band.Likely.As(band.Low.Unit), (double)band.High.As(band.Low.Unit));
        return (high - low) / Math.Max(1, Math.Abs(likely));
    });
}
