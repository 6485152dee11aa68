using System.Collections.Immutable;
using ConsultDesk.Calculations.Vehicle;
using UnitsNet;

namespace ConsultDesk.Calculations.Findings.Rules;

/// <summary>Openings are cut into the body and fans are wired.</summary>
internal static class BeforeCutting
{
    public static Finding? Judge(FindingContext context)
    {
        ImmutableArray<Opening> toCut = [.. context.Design.Openings.Where(opening => opening.State != PartState.Fitted)];
        return toCut.IsEmpty ? null : Caution(toCut);
    }

    private static Finding Caution(ImmutableArray<Opening> toCut) => new()
    {
        Code = "before-cutting",
        Severity = Severity.Note,
        Title = "Before cutting and wiring",
        Explanation = "A hole in the wrong place weakens the body or meets a cable, an airbag or a fuel line, and a cable without a fuse can start a fire.",
        Evidence =
        [
            new("Openings still to cut", Scalar.FromAmount(toCut.Length)),
            new("Fans to wire", Scalar.FromAmount(toCut.Count(opening => opening.Fan is not null))),
        ],
        Remedy = "Follow the body builder's instructions on where not to cut, look behind the panel, treat the bare edge against rust and seal it. "
            + "Fuse every cable at the battery. Leave structural cuts, gas and mains wiring to licensed trades, and check what the local code wants approved.",
    };
}
