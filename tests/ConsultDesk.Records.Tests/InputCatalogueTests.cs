using System.Text.RegularExpressions;
using ConsultDesk.Calculations.Envelope;
using ConsultDesk.Calculations.Vehicle;
using ConsultDesk.Testing;
using Xunit;

namespace ConsultDesk.Records.Tests;

public sealed partial class InputCatalogueTests
{
    // Members that are choices, names or follow from others: no client can be asked whether they are so.
    private static readonly string[] NoFacts =
    [
        @"\.(id|name|state|priceKey|coverState)$", @"^(bedBase|cabDivider)State$", @"^origins\[", @"^body\.furniture\[", @"\.zone(Id|A|B)$",
        @"\.cupboard\.", @"^ownPlaces\[\]\.hours\.", @"^openings\[\]\.(position|fan\.(speed|direction))$", @"\.running$", @"^zones\[\]\.kind$",
    ];

    [Fact]
    public void Every_stored_member_is_a_fact_with_an_origin_or_is_known_to_be_none()
    {
        var facts = Normalised(EverythingFitted());

        var forgotten = DesignJson.StoredMembers().Select(line => Bare(line.Split(':')[0]))
            .Where(path => !facts.Contains(path) && !NoFacts.Any(none => Regex.IsMatch(path, none))).Distinct();

        Assert.Empty(forgotten);
    }

    [Fact]
    public void Every_path_of_the_catalogue_is_a_stored_member()
    {
        var stored = DesignJson.StoredMembers().Select(line => Bare(line.Split(':')[0])).ToHashSet(StringComparer.Ordinal);
        // A point is known or not as a whole; its members are listed below it.
        Assert.DoesNotContain(Normalised(EverythingFitted()), path => !stored.Contains(path) && path is not ("equipment.gasLocker" or "equipment.heaterExhaust"));
    }

    private static HashSet<string> Normalised(Design design) =>
        [.. InputCatalogue.Of(design).Select(fact => Bare(Ids().Replace(fact.Path, "[]")))];

    private static string Bare(string path) => path.Replace("design.", "", StringComparison.Ordinal)
        .Replace("<air>", "", StringComparison.Ordinal).Replace("<membrane>", "", StringComparison.Ordinal).Replace("<solid>", "", StringComparison.Ordinal);

    private static Design EverythingFitted()
    {
        var van = SampleDesign.Van();
        return van with
        {
            Openings = [.. van.Openings.Select(o => o with { State = PartState.Fitted, Pane = o.Pane is null ? null : o.Pane with { CoverState = PartState.Fitted } })],
            Glazings = [.. van.Glazings.Select(g => g with { Pane = g.Pane with { CoverState = PartState.Fitted } })],
            CirculationFans = [.. van.CirculationFans.Select(f => f with { State = PartState.Fitted })],
            Dryers = [.. van.Dryers.Select(d => d with { State = PartState.Fitted })],
            Heater = van.Heater with { State = PartState.Fitted },
            Walls = Fitted(van.Walls),
            // The sample's walls hold every kind of layer.
            Roof = Fitted(van.Walls),
            Floor = Fitted(van.Walls),
            BedBaseState = PartState.Fitted,
            CabDividerState = PartState.Fitted,
            Body = van.Body with { RoofParts = [.. van.Body.RoofParts.Select(p => p with { State = PartState.Fitted })] },
        };
    }

    private static LayeredAssembly Fitted(LayeredAssembly assembly) =>
        assembly with { Layers = [.. assembly.Layers.Select(layer => layer with { State = PartState.Fitted })] };

    [GeneratedRegex(@"\[[^\]]*\]")]
    private static partial Regex Ids();
}
