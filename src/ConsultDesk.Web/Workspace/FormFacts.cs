using ConsultDesk.Calculations.Envelope;
using ConsultDesk.Calculations.Vehicle;

namespace ConsultDesk.Web.Workspace;

/// <summary>
/// The facts the form asks for, by their path in the stored text: what is true of van, people and route, and of parts
/// that are fitted. What an option proposes is no fact.
/// </summary>
public static class FormFacts
{
    /// <summary>Every fact of a design, in the order of the form.</summary>
    public static IReadOnlyList<string> Of(Design design)
    {
        List<string> facts = ["stop.placeKey", "stop.month", "stop.altitudeM", "stop.shelter"];
        foreach (var place in design.OwnPlaces)
        {
            facts.AddRange(Members($"ownPlaces[{place.Id}]", "latitudeDeg", "elevationM", $"months[{place.Months[0].Id}].meanC"));
        }

        foreach (var stay in Stays.InOrder(design))
        {
            facts.AddRange(Members($"itinerary[{stay.Id}]", "from.day", "placeKey", "altitudeM", "shelter"));
        }

        facts.AddRange(["household.sleepers", "household.cookingFuel"]);
        if (design.Household.CookingFuel != CookingFuel.None)
        {
            facts.Add("household.cookingHabit");
        }

        facts.AddRange(Members("household", "presence", "animals", "showersPerDay", "hotDrinksPerDay", "driesClothes", "washesUpInside", "wetFirewoodInside", "plants", "wipesGlass"));
        facts.AddRange(["buildStage", "country"]);
        facts.AddRange(Members("body", "interiorLengthM", "interiorWidthM", "interiorHeightM", "floorAboveGroundM"));
        foreach (var zone in design.Zones)
        {
            facts.AddRange(Members($"zones[{zone.Id}]", "airVolumeM3", "fromM", "toM", "bottomM", "topM"));
        }

        foreach (var passage in design.Passages)
        {
            facts.AddRange(Members($"passages[{passage.Id}]", "freeAreaM2", "bottomM", "topM", "mixingM3PerS"));
        }

        foreach (var part in design.Body.RoofParts.Where(part => Stands(part.State)))
        {
            facts.AddRange(Members($"body.roofParts[{part.Id}]", "xM", "yM", "lengthM", "widthM"));
        }

        foreach (var part in design.Body.HiddenParts)
        {
            facts.AddRange(Members($"body.hiddenParts[{part.Id}]", ["face", .. Place(part.Face), "lengthM", "widthM"]));
        }

        foreach (var opening in design.Openings.Where(opening => opening.State == PartState.Fitted))
        {
            facts.AddRange(OfOpening(opening).Select(member => $"openings[{opening.Id}].{member}"));
        }

        facts.AddRange(["leakage.effectiveAreaM2", "leakage.exponent"]);
        foreach (var glazing in design.Glazings)
        {
            facts.AddRange(Members($"glazings[{glazing.Id}]", "areaM2", "pane.glass"));
        }

        facts.AddRange(design.BareMetal.Select(patch => $"bareMetal[{patch.Id}].areaM2"));
        if (design.Heater.Kind != HeaterKind.None)
        {
            if (Stands(design.Heater.State))
            {
                facts.Add("heater.ratedOutputW");
            }

            facts.AddRange(Members("heater", "daySetPointC", "nightSetPointC"));
            if (design.Heater.Kind != HeaterKind.WoodStove)
            {
                facts.Add("heater.runsWhenAway");
            }
        }

        if (design.Heater.Kind.BurnsFuel() && Stands(design.Heater.State))
        {
            facts.Add("equipment.heaterRatedAltitudeM");
        }

        foreach (var (part, assembly) in new[] { ("walls", design.Walls), ("roof", design.Roof), ("floor", design.Floor) })
        {
            if (assembly.Layers.Any(layer => Stands(layer.State)))
            {
                facts.Add(part + ".gaps");
            }

            facts.AddRange(assembly.Layers.Where(layer => layer.State == PartState.Fitted).SelectMany(layer => OfLayer(layer).Select(member => $"{part}.layers[{layer.Id}].{member}")));
        }

        facts.AddRange(OfEquipment(design));
        return facts;
    }

    /// <summary>True when the part is there or bought: what it is can be read off it.</summary>
    public static bool Stands(PartState state) => state is PartState.Fitted or PartState.Owned;

    private static List<string> OfOpening(Opening opening)
    {
        List<string> members = [.. Place(opening.Face), "lengthM", "widthM", "freeShare"];
        if (opening.Fan is not null)
        {
            members.AddRange(["fan.freeAirFlowM3PerS", "fan.shutOffPressurePa"]);
        }

        if (opening.Pane is not null)
        {
            members.Add("pane.glass");
        }

        if (opening.Kind is OpeningKind.FreshAirFlap or OpeningKind.PressureReliefFlap or OpeningKind.FloorVent)
        {
            members.Add("covered");
        }

        members.AddRange(["facts.usableInRain", "facts.usableInDrivingRain"]);
        if (opening.Kind == OpeningKind.RoofVent)
        {
            members.Add("facts.rainSensor");
        }

        members.AddRange(["facts.openAsleep", "facts.openLocked", "facts.seenThrough", "facts.screened", "facts.fixed"]);
        return members;
    }

    // The two coordinates that say where something lies on a face.
    private static string[] Place(Face face) => face switch
    {
        Face.Nose or Face.Tail => ["yM", "zM"],
        Face.Left or Face.Right => ["xM", "zM"],
        _ => ["xM", "yM"],
    };

    private static string[] OfLayer(Layer layer) => layer switch
    {
        SolidLayer => ["material", "thicknessM"],
        AirLayer => ["thicknessM"],
        MembraneLayer => ["vapourEquivalentThicknessM"],
        _ => throw new ArgumentException($"No field for a {layer.GetType().Name}.", nameof(layer)),
    };

    private static List<string> OfEquipment(Design design)
    {
        var equipment = design.Equipment;
        List<string> facts = [.. Members("equipment", "carbonMonoxideAlarm", "smokeAlarm", "lowGasAlarm", "extinguisher", "waysOutOfBed", "gasBottles")];
        if (equipment.GasBottles)
        {
            facts.Add("equipment.gasLockerOpensInside");
        }

        facts.Add("equipment.woodStove");
        if (design.Household.CookingFuel != CookingFuel.None)
        {
            facts.Add("equipment.cookerUsedForWarmth");
        }

        facts.Add("equipment.battery");
        if (equipment.Battery != BatteryKind.None)
        {
            facts.AddRange(["equipment.batteryUsableJ", "equipment.batteryZoneId"]);
        }

        facts.Add("equipment.waterCarried");
        if (equipment.WaterCarried)
        {
            facts.Add("equipment.waterZoneId");
        }

        facts.AddRange(Members("equipment", "steel", "leftInLockedVan", "roofNotCleared"));
        return facts;
    }

    private static IEnumerable<string> Members(string of, params string[] members) => members.Select(member => $"{of}.{member}");
}
