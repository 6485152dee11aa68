using ConsultDesk.Records;
using ConsultDesk.Reports.Units;

namespace ConsultDesk.Web.Consultancy;

/// <summary>The units a firm reads and types in.</summary>
internal static class FirmUnits
{
    /// <summary>The firm's preset with the units it chose for single kinds of number.</summary>
    /// <exception cref="FormatException">The stored choices name a unit this version does not have; the firm's page sets them anew.</exception>
    public static DisplayUnits DisplayUnits(this Firm firm) => Preset(firm.Units).With(firm.UnitChoices);

    /// <summary>Units somebody chose; null for none.</summary>
    /// <exception cref="FormatException">The stored choices name a unit this version does not have.</exception>
    public static DisplayUnits? Of(UnitChoice? choice) => choice is null ? null : Preset(choice.Preset).With(choice.Choices);

    /// <summary>Units as they are stored; null for none.</summary>
    public static UnitChoice? Choice(DisplayUnits? units) => units is null ? null : new UnitChoice(Enum.Parse<UnitPreset>(units.Name), units.Choices);

    /// <summary>A preset.</summary>
    public static DisplayUnits Preset(UnitPreset preset) => Reports.Units.DisplayUnits.Named(preset.ToString());
}
