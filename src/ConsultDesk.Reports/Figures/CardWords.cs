using System.Collections.Immutable;
using System.Globalization;
using ConsultDesk.Calculations.Findings;
using ConsultDesk.Calculations.Vehicle;

namespace ConsultDesk.Reports.Figures;

/// <summary>The words of the running card.</summary>
public static class CardWords
{
    /// <summary>A row of the card.</summary>
    public static string Of(Moment moment) => moment switch
    {
        Moment.Cooking => "Cooking",
        Moment.GoingToBed => "Going to bed",
        Moment.Morning => "Morning",
        Moment.DrivingOff => "Driving off",
        Moment.LeavingItLocked => "Leaving it locked",
        _ => throw new ArgumentOutOfRangeException(nameof(moment), moment, "Expected a moment of the card."),
    };

    /// <summary>A column of the card.</summary>
    public static string Of(CardWeather weather) => weather switch
    {
        CardWeather.Rain => "Rain",
        CardWeather.Damp => "Damp and mild",
        CardWeather.Frost => "Frost",
        CardWeather.Heat => "Heat",
        CardWeather.Snow => "Snow on the roof",
        _ => throw new ArgumentOutOfRangeException(nameof(weather), weather, "Expected a weather of the card."),
    };

    /// <summary>An instruction, such as <c>Roof fan: half open, fan at 30 %</c>.</summary>
    public static string Of(CardInstruction instruction, Design design)
    {
        var opening = design.Openings.FirstOrDefault(candidate => candidate.Id == instruction.OpeningId);
        var position = instruction.Position switch
        {
            Position.Shut => "shut",
            Position.Ajar => "ajar",
            Position.Half => "half open",
            Position.Full => "fully open",
            _ => throw new ArgumentOutOfRangeException(nameof(instruction), instruction.Position, "Expected a position."),
        };
        var fan = instruction.FanSpeed is { } speed
            ? string.Create(CultureInfo.InvariantCulture, $", fan at {Math.Round(100 * speed)}\u00A0%")
            : opening?.Fan is not null && instruction.Position != Position.Shut ? ", fan off" : "";
        return $"{ShortName(instruction.Name, design)}: {position}{fan}";
    }

    /// <summary>The lines of a cell: its instructions, or that all stays as it is, then its caution; a mark where there are more than one.</summary>
    public static ImmutableArray<string> Of(CardCell cell, Design design)
    {
        ImmutableArray<string> lines =
        [
            .. cell.Instructions.IsEmpty ? ["Leave all as it is"] : cell.Instructions.Select(instruction => Of(instruction, design)),
            .. cell.Caution.Length > 0 ? new[] { cell.Caution } : [],
        ];
        return lines.Length == 1 ? lines : [.. lines.Select(line => "•\u00A0" + line)];
    }

    /// <summary>The name without its description, as long as no other opening has it: of <c>Roof fan, 350 mm, rain hood</c> the roof fan.</summary>
    internal static string ShortName(string name, Design design)
    {
        var comma = name.IndexOf(',', StringComparison.Ordinal);
        if (comma <= 0)
        {
            return name;
        }

        var head = name[..comma];
        return design.Openings.Count(opening => opening.Name == head || opening.Name.StartsWith(head + ",", StringComparison.Ordinal)) == 1
            ? head
            : name;
    }
}
