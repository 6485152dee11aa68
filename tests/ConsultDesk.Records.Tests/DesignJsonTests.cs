using System.Collections.Immutable;
using System.Globalization;
using System.Text.Json.Nodes;
using ConsultDesk.Calculations.Envelope;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;
using ConsultDesk.Testing;
using CsCheck;
using UnitsNet;
using Xunit;

namespace ConsultDesk.Records.Tests;

public sealed class DesignJsonTests
{
    private static string Data(string name) =>
        File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "Data", name)).TrimEnd('\n');

    [Fact]
    public void The_kept_file_of_today_reads_as_the_van_it_was_written_from_and_writes_back_the_same_bytes()
    {
        var kept = Data($"design.format-{DesignJson.CurrentFormat}.json");
        var design = DesignJson.Read(kept);
        Assert.Equal(kept, DesignJson.Write(design));
        Assert.Empty(DesignJson.Differences(SampleDesign.Van(), design));
        Assert.Equal(2.4, design.Equipment.BatteryUsable.KilowattHours);
        Assert.Equal(4.5m, design.CirculationFans[0].ElectricDraw.Value);
        Assert.Equal(new MonthDay(3, 15), design.Itinerary[0].To);
        Assert.Equal(Face.Floor, design.Equipment.HeaterExhaust!.Face);
        Assert.Equal(0.06, design.Dryers[0].RemovedPerDay.Kilograms);
        Assert.Equal(63.5, design.OwnPlaces[0].Latitude.Degrees);
        Assert.Equal(82, design.OwnPlaces[0].Months[11].Humidity.Percent);
        Assert.Equal(new InputOrigin("household.sleepers", Origin.Told), design.Origins[1]);
    }

    [Fact]
    public void The_kept_file_of_format_2_reads_with_its_alarms_fitted_and_every_part_proposed()
    {
        var design = DesignJson.Read(Data("design.format-2.json"));
        var today = SampleDesign.Van();
        Assert.Equal(
            (PartState?[])[PartState.Fitted, PartState.Fitted, PartState.Fitted, PartState.Fitted],
            [design.Equipment.CarbonMonoxideAlarm, design.Equipment.SmokeAlarm, design.Equipment.LowGasAlarm, design.Equipment.Extinguisher]);
        Assert.All(design.Openings, opening => Assert.Equal(PartState.Proposed, opening.State));
        Assert.All(design.Openings, opening => Assert.False(opening.Covered || opening.Facts.RainSensor || opening.Facts.SeenThrough));
        Assert.All(design.Walls.Layers, layer => Assert.Equal(PartState.Proposed, layer.State));
        Assert.All(design.CirculationFans, fan => Assert.Equal(PartState.Proposed, fan.State));
        Assert.Equal(PartState.Proposed, design.Heater.State);
        Assert.Empty(design.Dryers);
        Assert.Empty(design.Origins);
        Assert.Null(design.Country);
        // What format 2 could say is what the sample of today still says.
        Assert.Empty(DesignJson.Differences(
            today with
            {
                Body = today.Body with { RoofParts = [] },
                Openings = [SampleDesign.VanOfFormat1().Openings[0], SampleDesign.VanOfFormat1().Openings[1]],
                Walls = today.Walls with { Layers = SampleDesign.VanOfFormat1().Walls.Layers },
                Heater = today.Heater with { State = PartState.Proposed, PriceKey = null },
                CirculationFans = [today.CirculationFans[0] with { State = PartState.Proposed, PriceKey = null }],
                BedBaseState = PartState.Proposed,
                CabDividerState = PartState.Proposed,
                Dryers = [],
                OwnPlaces = [],
                Origins = [],
                BuildStage = BuildStage.Unknown,
                Country = null,
                Equipment = today.Equipment with { GasLocker = null, SmokeAlarm = PartState.Fitted, LowGasAlarm = PartState.Fitted },
            },
            design));
    }

    [Fact]
    public void The_cab_windows_of_format_2_are_fitted_since_the_van_was_built_with_them()
    {
        var text = Changed(Data("design.format-2.json"), "$.design.openings[1]", node => node["kind"] = "cab-window");
        Assert.Equal([PartState.Proposed, PartState.Fitted], DesignJson.Read(text).Openings.Select(opening => opening.State));
    }

    [Fact]
    public void An_alarm_that_format_2_said_was_not_there_is_not_there()
    {
        var text = Changed(Data("design.format-2.json"), "$.design.equipment", node => node["smokeAlarm"] = false);
        Assert.Null(DesignJson.Read(text).Equipment.SmokeAlarm);
    }

    [Theory]
    [InlineData("\"fitted\"")]
    [InlineData("null")]
    [InlineData("1")]
    public void An_alarm_of_format_2_that_is_neither_there_nor_not_is_refused(string value)
    {
        var text = Changed(Data("design.format-2.json"), "$.design.equipment", node => node["smokeAlarm"] = JsonNode.Parse(value));
        Assert.Equal("$.design.equipment.smokeAlarm", Assert.Throws<DesignTextException>(() => DesignJson.Read(text)).Path);
    }

    [Theory]
    [InlineData("$.design", "dryers")]
    [InlineData("$.design.openings[1]", "state")]
    [InlineData("$.design.openings[1].pane", "coverState")]
    [InlineData("$.design.openings[0].fan", "soundDba")]
    [InlineData("$.design.walls.layers[2]", "state")]
    [InlineData("$.design.body", "roofParts")]
    public void A_text_of_format_2_that_holds_a_member_of_format_3_is_refused_with_its_name(string place, string member)
    {
        var e = Assert.Throws<DesignTextException>(() => DesignJson.Read(Changed(Data("design.format-2.json"), place, node => node[member] = 1)));
        Assert.Equal($"{place}.{member}", e.Path);
    }

    [Fact]
    public void The_kept_file_of_format_1_reads_as_the_van_it_was_written_from_with_what_came_later_at_its_defaults()
    {
        var kept = Data("design.format-1.json");
        var design = DesignJson.Read(kept);
        // The van is made in code with today's records, so every member the upgrade adds has the record's own default.
        Assert.Empty(DesignJson.Differences(SampleDesign.VanOfFormat1(), design));
        Assert.True(DesignJson.Same(SampleDesign.VanOfFormat1(), design));
        Assert.Empty(design.Itinerary);
        Assert.Equal(0.42, design.Openings[0].Fan!.FreeAirFlow.CubicMetersPerSecond);
        Assert.Equal(2000, design.Heater.RatedOutput.Watts);
        Assert.Equal(14.5, design.Heater.NightSetPoint.DegreesCelsius);
        Assert.IsType<MembraneLayer>(design.Walls.Layers[1]);
    }

    /// <summary>
    /// When this fails, stored designs would no longer be understood: raise <see cref="DesignJson.CurrentFormat"/>,
    /// write the upgrade step, and add the lists and the kept file of the new format. Never edit those of a released one.
    /// </summary>
    [Fact]
    public void Stored_member_names_change_only_with_a_new_format_number() =>
        Assert.Equal(
            Data($"design-members.format-{DesignJson.CurrentFormat}.txt").Split('\n'),
            DesignJson.StoredMembers());

    [Fact]
    public void Every_released_format_has_a_kept_file_that_reads_without_faults_and_assesses()
    {
        for (var format = 1; format <= DesignJson.CurrentFormat; format++)
        {
            var design = DesignJson.Read(Data($"design.format-{format}.json"));
            Assert.Empty(DesignCheck.Errors(design));
            var assessment = Assessor.Assess(design, TestContext.Current.CancellationToken);
            Assert.Equal(design.Zones.Select(z => z.Id), assessment.Zones.Select(z => z.ZoneId));
            Assert.All(assessment.Zones, z => Assert.InRange(z.RelativeHumidity.Percent, 1, 100));
        }
    }

    [Theory]
    [InlineData("$.design", "equipment")]
    [InlineData("$.design.heater", "daySetPointC")]
    [InlineData("$.design.roof", "gaps")]
    public void A_text_of_format_1_that_holds_a_member_of_a_later_format_is_refused_with_its_name(string place, string member)
    {
        var e = Assert.Throws<DesignTextException>(() => DesignJson.Read(Changed(Data("design.format-1.json"), place, node => node[member] = 1)));
        Assert.Equal($"{place}.{member}", e.Path);
    }

    [Theory]
    [InlineData("$.design", "heater")]
    [InlineData("$.design", "walls")]
    [InlineData("$.design.household", "sleepers")]
    public void A_text_of_format_1_without_a_member_is_refused_with_its_name(string place, string member)
    {
        var e = Assert.Throws<DesignTextException>(() => DesignJson.Read(Changed(Data("design.format-1.json"), place, node => Assert.True(node.Remove(member)))));
        Assert.Contains(member, e.Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("$.design.equipment", "batteryUsableJ")]
    [InlineData("$.design.itinerary[0].from", "month")]
    [InlineData("$.design.circulationFans[0]", "electricDrawW")]
    [InlineData("$.design.walls.layers[0]", "thicknessM")]
    [InlineData("$.design.openings[0]", "fan")]
    [InlineData("$.design.openings[0].facts", "openAsleep")]
    [InlineData("$.design.glazings[0].pane", "cover")]
    [InlineData("$.design.dryers[0]", "removedPerDayKg")]
    [InlineData("$.design.ownPlaces[0].months[3]", "humidityPercent")]
    [InlineData("$.design.origins[0]", "origin")]
    [InlineData("$.design.openings[0]", "state")]
    [InlineData("$.design.heater", "ratedOutputW")]
    [InlineData("$.design", "stop")]
    public void A_missing_member_is_an_error_that_names_it(string place, string member)
    {
        var e = Assert.Throws<DesignTextException>(() => DesignJson.Read(Changed(place, node => Assert.True(node.Remove(member)))));
        Assert.Contains(member, e.Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("$.design.stop", "colour")]
    [InlineData("$.design.walls.layers[2]", "material")]
    [InlineData("$", "notes")]
    public void An_unknown_member_is_refused(string place, string member)
    {
        var e = Assert.Throws<DesignTextException>(() => DesignJson.Read(Changed(place, node => node[member] = "x")));
        Assert.Contains(member, e.Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("$.design.stop", "month", "\"may\"")]
    [InlineData("$.design.stop", "month", "1.5")]
    [InlineData("$.design.stop", "shelter", "2")]
    [InlineData("$.design.stop", "shelter", "\"indoors\"")]
    [InlineData("$.design.stop", "altitudeM", "\"12\"")]
    [InlineData("$.design.stop", "altitudeM", "null")]
    [InlineData("$.design.stop", "placeKey", "null")]
    [InlineData("$.design.walls.layers[0]", "kind", "\"straw\"")]
    [InlineData("$.design", "zones", "null")]
    [InlineData("$.design", "zones", "[null]")]
    [InlineData("$", "design", "[]")]
    [InlineData("$", "format", "0")]
    [InlineData("$", "format", "\"1\"")]
    public void A_value_of_the_wrong_kind_is_refused(string place, string member, string value) =>
        Assert.Throws<DesignTextException>(() => DesignJson.Read(Changed(place, node => node[member] = JsonNode.Parse(value))));

    [Theory]
    [InlineData("")]
    [InlineData("null")]
    [InlineData("[]")]
    [InlineData("{}")]
    [InlineData("""{"format":1}""")]
    [InlineData("""{"format":2}""")]
    [InlineData("""{"format":1,"design":{}}""")]
    [InlineData("""{"format":2,"format":2,"design":{}}""")]
    public void What_is_no_design_is_refused(string text) => Assert.Throws<DesignTextException>(() => DesignJson.Read(text));

    [Fact]
    public void A_member_written_twice_is_refused()
    {
        var twice = DesignJson.Write(SampleDesign.Van()).Replace("\"month\":11", "\"month\":11,\"month\":12", StringComparison.Ordinal);
        Assert.Throws<DesignTextException>(() => DesignJson.Read(twice));
    }

    [Fact]
    public void A_newer_format_is_refused_with_its_number()
    {
        var newer = DesignJson.CurrentFormat + 1;
        var e = Assert.Throws<NewerDesignFormatException>(() => DesignJson.Read(Changed("$", node => node["format"] = newer)));
        Assert.Equal(newer, e.Format);
    }

    [Fact]
    public void The_kind_of_a_layer_may_stand_anywhere_among_its_members()
    {
        var moved = Changed("$.design.walls.layers[1]", node =>
        {
            var kind = node["kind"]!.DeepClone();
            node.Remove("kind");
            node["kind"] = kind;
        });
        Assert.True(DesignJson.Same(SampleDesign.Van(), DesignJson.Read(moved)));
    }

    [Fact]
    public void Equal_values_in_different_units_are_the_same_bytes()
    {
        var van = SampleDesign.Van();
        var same = van with
        {
            Stop = van.Stop with { Altitude = Length.FromCentimeters(-200) },
            Heater = van.Heater with { RatedOutput = Power.FromKilowatts(2.000m), NightSetPoint = Temperature.FromKelvins(14.5 + 273.15) },
        };
        Assert.True(DesignJson.Same(van, same));
        Assert.Equal(DesignJson.Hash(van), DesignJson.Hash(same));
        Assert.True(DesignJson.Same(WithAltitude(0.0), WithAltitude(-0.0)));
        Assert.False(DesignJson.Same(WithAltitude(0.0), WithAltitude(double.Epsilon)));

        Design WithAltitude(double metres) => van with { Stop = van.Stop with { Altitude = Length.FromMeters(metres) } };
    }

    [Fact]
    public void What_cannot_be_read_back_is_not_written()
    {
        var van = SampleDesign.Van();
        Assert.Throws<ArgumentException>(() => DesignJson.Write(van with { Zones = default }));
        Assert.Throws<ArgumentException>(() => DesignJson.Write(van with { Stop = van.Stop with { Altitude = Length.FromMeters(double.NaN) } }));
        Assert.Throws<ArgumentException>(() => DesignJson.Write(van with { Leakage = van.Leakage with { Exponent = double.PositiveInfinity } }));
        Assert.Throws<ArgumentException>(() => DesignJson.Write(van with { Stop = van.Stop with { Shelter = (Shelter)99 } }));
        Assert.Throws<ArgumentException>(() => DesignJson.Write(van with { Stop = van.Stop with { PlaceKey = null! } }));
        Assert.Throws<ArgumentException>(() => DesignJson.Write(van with { Stop = van.Stop with { PlaceKey = "half a pair \uD83D" } }));
    }

    [Fact]
    public void Differences_name_the_member_with_both_values()
    {
        var van = SampleDesign.Van();
        var fan = van.Openings[0];
        var changed = van with
        {
            Stop = van.Stop with { Month = 3 },
            Openings = [fan with { Fan = fan.Fan! with { Speed = 1 } }, van.Openings[1] with { Pane = null }, .. van.Openings.Skip(2)],
            BareMetal = [],
            Walls = van.Walls with { Layers = van.Walls.Layers.Reverse().ToImmutableArray() },
        };

        var found = DesignJson.Differences(van, changed).ToDictionary(d => d.Path, d => (d.Before, d.After));

        Assert.Equal(("11", "3"), found["stop.month"]);
        Assert.Equal(("0.2", "1"), found["openings[roof-fan].fan.speed"]);
        Assert.Null(found["openings[window].pane"].After);
        Assert.Null(found["bareMetal[sills]"].After);
        Assert.StartsWith("lining, vcl", found["walls.layers"].Before, StringComparison.Ordinal);
        Assert.Equal(5, found.Count);
    }

    [Fact]
    public void The_text_does_not_depend_on_the_culture()
    {
        var before = CultureInfo.CurrentCulture;
        try
        {
            var expected = DesignJson.Write(SampleDesign.Van());
            // Made by hand: on a machine without ICU every named culture is the invariant one.
            var decimalComma = (CultureInfo)CultureInfo.InvariantCulture.Clone();
            decimalComma.NumberFormat.NumberDecimalSeparator = ",";
            decimalComma.NumberFormat.NegativeSign = "\u2212";
            CultureInfo.CurrentCulture = decimalComma;
            Assert.Equal("4,5", FormattableString.CurrentCulture($"{4.5}"));
            Assert.Equal(expected, DesignJson.Write(SampleDesign.Van()));
            Assert.True(DesignJson.Same(SampleDesign.Van(), DesignJson.Read(expected)));
        }
        finally
        {
            CultureInfo.CurrentCulture = before;
        }
    }

    [Fact]
    public void Any_design_reads_back_as_the_same_bytes() => Designs.Any.Sample(
        design =>
        {
            var text = DesignJson.Write(design);
            var back = DesignJson.Read(text);
            return DesignJson.Write(back) == text && DesignJson.Differences(design, back).Count == 0;
        },
        seed: "0002DesignJson", iter: 300, threads: 1);

    [Fact]
    public void Two_designs_are_the_same_exactly_when_no_difference_is_found() => Designs.Any.Select(Designs.Any).Sample(
        (a, b) => DesignJson.Same(a, b) == (DesignJson.Differences(a, b).Count == 0),
        seed: "0002DesignJson", iter: 500, threads: 1);

    /// <summary>The sample's text with one object of it changed.</summary>
    private static string Changed(string place, Action<JsonObject> change) => Changed(DesignJson.Write(SampleDesign.Van()), place, change);

    private static string Changed(string text, string place, Action<JsonObject> change)
    {
        var root = JsonNode.Parse(text)!;
        var node = root;
        foreach (var step in place.Split('.').Skip(1))
        {
            var name = step.Split('[')[0];
            node = node[name]!;
            if (step.Length > name.Length)
            {
                node = node[int.Parse(step[(name.Length + 1)..^1], CultureInfo.InvariantCulture)]!;
            }
        }

        change(node.AsObject());
        return root.ToJsonString();
    }
}
