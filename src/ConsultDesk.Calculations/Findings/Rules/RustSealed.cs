using System.Collections.Immutable;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;
using UnitsNet;

namespace ConsultDesk.Calculations.Findings.Rules;

/// <summary>Rust that was coated or is about to be covered.</summary>
internal static class RustSealed
{
    public static Finding? Judge(FindingContext context)
    {
        SteelCondition steel = context.Design.Equipment.Steel;
        if (steel is not (SteelCondition.CoatedOverRust or SteelCondition.LightRust))
        {
            return null;
        }

        bool coated = steel == SteelCondition.CoatedOverRust;
        return new Finding
        {
            Code = "rust-sealed",
            Severity = coated ? Severity.Warning : Severity.Advice,
            Title = coated ? "Rust is sealed under a coating" : "Rust has to go before the lining closes over it",
            Explanation = "Rust holds water and salt, and under a coating it goes on where nobody sees it. A lining in front hides it until the skin is through.",
            Evidence = Numbers(context),
            Remedy = "Grind it to bright metal, treat it and prime it, then coat, insulate and line. Through-rust and structural parts are a body shop's work.",
            TriedAs = "The copy has the rust removed and treated.",
            Apply = design => design with { Equipment = design.Equipment with { Steel = SteelCondition.RustTreated } },
        };
    }

    private static ImmutableArray<Evidence> Numbers(FindingContext context)
    {
        Evidence area = new("Steel behind the lining", Area.FromSquareMeters(context.Assessment.Assemblies.Sum(part => part.Area.SquareMeters)));
        return context.Assessment.Year is { Skins: { IsDefaultOrEmpty: false } skins } && skins.MaxBy(skin => skin.HoursAbove80) is SkinYear worst
            ? [area, new($"Time in the year above 80 % humidity at the skin, {worst.Part.ToLowerInvariant()}", Duration.FromHours(worst.HoursAbove80))]
            : [area];
    }
}
