using System.Collections.Immutable;
using System.Globalization;
using ConsultDesk.Calculations.Air;
using ConsultDesk.Calculations.Climate;
using ConsultDesk.Calculations.Envelope;
using UnitsNet;

namespace ConsultDesk.Calculations.Vehicle;

/// <summary>One thing wrong with a design.</summary>
/// <param name="Path">The field, for example <c>openings[roof-fan].length</c>: member names in camelCase, list members by id.</param>
/// <param name="Message">What is wrong and what was expected.</param>
public sealed record DesignError(string Path, string Message)
{
    /// <summary>The message with <c>{0}</c>, <c>{1}</c>… for <see cref="Quantities"/>, for a reader with other units; null when it measures nothing.</summary>
    public string? Template { get; init; }

    /// <summary>What stands in the template: lengths and temperatures.</summary>
    public ImmutableArray<IQuantity> Quantities { get; init; } = [];
}

/// <summary>Says what is wrong with a design. A shut van is nothing wrong.</summary>
public static class DesignCheck
{
    /// <summary>
    /// More than the coldest hour of a stay lies below its coldest night, K: where the night is milder than the limit by
    /// this, the hours of the year need not be built. A test holds it against every place.
    /// </summary>
    internal const double SnapBelowNightK = 20;

    /// <summary>Everything wrong with the design, in the order of its fields; empty when it can be calculated.</summary>
    public static ImmutableArray<DesignError> Errors(Design design)
    {
        ErrorList errors = new();
        CheckBody(design.Body, errors);
        CheckRoofParts(design.Body, errors);
        CheckZones(design, errors);
        CheckPassages(design, errors);
        CheckOpenings(design, errors);
        CheckGlassAndMetal(design, errors);
        CheckAssembly(design.Walls, "walls", errors);
        CheckAssembly(design.Roof, "roof", errors);
        CheckAssembly(design.Floor, "floor", errors);
        errors.Range("leakage.effectiveArea", DesignLimits.LeakageArea, design.Leakage.EffectiveArea.SquareCentimeters);
        errors.Range("leakage.exponent", DesignLimits.LeakageExponent, design.Leakage.Exponent);
        CheckUse(design, errors);
        CheckItinerary(design, errors);
        CheckCirculationFans(design, errors);
        CheckDryers(design, errors);
        CheckOrigins(design, errors);
        CheckEquipment(design, errors);
        return errors.ToImmutable();
    }

    private static void CheckBody(Body body, ErrorList errors)
    {
        errors.Range("body.interiorLength", DesignLimits.InteriorLength, body.InteriorLength.Meters);
        errors.Range("body.interiorWidth", DesignLimits.InteriorWidth, body.InteriorWidth.Meters);
        errors.Range("body.interiorHeight", DesignLimits.InteriorHeight, body.InteriorHeight.Meters);
        errors.Range("body.floorAboveGround", DesignLimits.FloorAboveGround, body.FloorAboveGround.Meters);
        errors.UniqueIds("body.furniture", body.Furniture.Select(piece => piece.Id));
        foreach (Furniture piece in body.Furniture)
        {
            string path = $"body.furniture[{piece.Id}]";
            errors.Range(path + ".length", DesignLimits.FurnitureSize, piece.Length.Meters);
            errors.Range(path + ".width", DesignLimits.FurnitureSize, piece.Width.Meters);
            errors.Range(path + ".height", DesignLimits.FurnitureSize, piece.Height.Meters);
            errors.Inside(path + ".x", piece.X.Meters, piece.X.Meters + piece.Length.Meters, body.InteriorLength.Meters, "the van's length");
            errors.Inside(path + ".y", piece.Y.Meters, piece.Y.Meters + piece.Width.Meters, body.InteriorWidth.Meters, "the van's width");
            errors.Inside(path + ".z", piece.Z.Meters, piece.Z.Meters + piece.Height.Meters, body.InteriorHeight.Meters, "the van's height");
        }

        errors.UniqueIds("body.hiddenParts", body.HiddenParts.Select(part => part.Id));
        foreach (HiddenPart part in body.HiddenParts)
        {
            string path = $"body.hiddenParts[{part.Id}]";
            errors.Range(path + ".length", DesignLimits.HiddenPartSize, part.Length.Meters);
            errors.Range(path + ".width", DesignLimits.HiddenPartSize, part.Width.Meters);
            CheckInsideFace(body, FaceBox.Of(part), path, errors);
        }
    }

    private static void CheckRoofParts(Body body, ErrorList errors)
    {
        errors.UniqueIds("body.roofParts", body.RoofParts.Select(part => part.Id));
        foreach (RoofPart part in body.RoofParts)
        {
            string path = $"body.roofParts[{part.Id}]";
            errors.Range(path + ".length", DesignLimits.RoofPartLength, part.Length.Meters);
            errors.Range(path + ".width", DesignLimits.RoofPartWidth, part.Width.Meters);
            // Racks and awnings may hang over the edge, but what lies on the roof has its middle there.
            errors.Inside(path + ".x", part.X.Meters - Openings.EdgeToleranceM, part.X.Meters + Openings.EdgeToleranceM, body.InteriorLength.Meters, "the van's length");
            errors.Inside(path + ".y", part.Y.Meters - Openings.EdgeToleranceM, part.Y.Meters + Openings.EdgeToleranceM, body.InteriorWidth.Meters, "the van's width");
        }
    }

    private static void CheckOrigins(Design design, ErrorList errors)
    {
        errors.UniqueIds("origins", design.Origins.Select(entry => entry.Id));
        if (!design.Origins.Select(entry => entry.Id).SequenceEqual(design.Origins.Select(entry => entry.Id).Order(StringComparer.Ordinal), StringComparer.Ordinal))
        {
            errors.Add("origins", "The origins of inputs are out of order; expected them by path.");
        }

        if (design.Country is string country && !(country.Length == 2 && country.All(char.IsAsciiLetterUpper)))
        {
            errors.Add("country", $"The country is '{country}'; expected two capital letters of ISO 3166-1, for example DE.");
        }
    }

    private static void CheckDryers(Design design, ErrorList errors)
    {
        errors.UniqueIds("dryers", design.Dryers.Select(dryer => dryer.Id));
        foreach (Dryer dryer in design.Dryers)
        {
            string path = $"dryers[{dryer.Id}]";
            errors.ZoneExists(design, path + ".zoneId", dryer.ZoneId);
            errors.Range(path + ".removedPerDay", DesignLimits.DryerRemoval, dryer.RemovedPerDay.Kilograms);
            errors.Range(path + ".electricDraw", DesignLimits.DryerDraw, (double)dryer.ElectricDraw.Watts);
        }
    }

    private static void CheckZones(Design design, ErrorList errors)
    {
        if (design.Zones.IsEmpty)
        {
            errors.Add("zones", "There is no zone; expected at least one volume of air.");
        }

        errors.UniqueIds("zones", design.Zones.Select(zone => zone.Id));
        foreach (Zone zone in design.Zones)
        {
            string path = $"zones[{zone.Id}]";
            errors.Range(path + ".airVolume", DesignLimits.ZoneAirVolume, zone.AirVolume.CubicMeters);
            errors.Inside(path + ".from", zone.From.Meters, zone.To.Meters, design.Body.InteriorLength.Meters, "the van's length");
            errors.Inside(path + ".bottom", zone.Bottom.Meters, zone.Top.Meters, design.Body.InteriorHeight.Meters, "the van's height");
            CheckCupboard(design, zone, path, errors);
            double boxM3 = ZoneFaces.RoomM3(design, zone);
            if (zone.AirVolume.CubicMeters > boxM3 * 1.001)
            {
                errors.Add(path + ".airVolume", string.Create(
                    CultureInfo.InvariantCulture,
                    $"Air volume is {zone.AirVolume.CubicMeters:G4} m³; expected at most the {boxM3:G4} m³ the zone's box has room for."));
            }
        }

        for (int first = 0; first < design.Zones.Length; first++)
        {
            for (int second = first + 1; second < design.Zones.Length; second++)
            {
                if (Overlap(design, design.Zones[first], design.Zones[second]))
                {
                    errors.Add(
                        $"zones[{design.Zones[second].Id}].from",
                        $"{design.Zones[second].Name} and {design.Zones[first].Name} take up the same space; expected zones side by side.");
                }
            }
        }
    }

    private static void CheckCupboard(Design design, Zone zone, string path, ErrorList errors)
    {
        if (zone.Cupboard is not CupboardPlace place)
        {
            if (zone.Kind == ZoneKind.Cupboard)
            {
                errors.Add(path + ".cupboard", $"{zone.Name} is a cupboard; expected the wall it stands against.");
            }

            return;
        }

        if (zone.Kind != ZoneKind.Cupboard)
        {
            errors.Add(path + ".cupboard", $"{zone.Name} is no cupboard; expected no place of a cupboard.");
        }

        if (place.Wall is not (Face.Left or Face.Right))
        {
            errors.Add(path + ".cupboard.wall", $"It stands against the {FaceWord(place.Wall)}; expected the left wall or the right wall.");
        }

        errors.Range(path + ".cupboard.depth", DesignLimits.CupboardDepth, place.Depth.Meters);
        if (!errors.ZoneExists(design, path + ".cupboard.hostZoneId", place.HostZoneId))
        {
            return;
        }

        Zone host = design.Zones.First(other => other.Id == place.HostZoneId);
        if (host.Kind is ZoneKind.Cupboard or ZoneKind.Cab)
        {
            errors.Add(path + ".cupboard.hostZoneId", $"{host.Name} is {(host.Kind == ZoneKind.Cab ? "the cab" : "a cupboard itself")}; expected a room behind the cab.");
        }
        else if (!(Within(zone.From, zone.To, host.From, host.To) && Within(zone.Bottom, zone.Top, host.Bottom, host.Top)
            && place.Depth.Meters < design.Body.InteriorWidth.Meters))
        {
            errors.Add(path + ".from", $"{zone.Name} does not lie within {host.Name}; expected a place inside the zone it was carved out of.");
        }

        FaceBox onWall = new(place.Wall, zone.From.Meters, zone.To.Meters, zone.Bottom.Meters, zone.Top.Meters);
        if (design.Openings.FirstOrDefault(opening => opening.ZoneId != zone.Id && onWall.Overlaps(FaceBox.Of(opening))) is Opening covered)
        {
            errors.Add(path + ".from", $"{zone.Name} covers {covered.Name}; expected a place beside it.");
        }
    }

    private static bool Within(Length low, Length high, Length from, Length to) =>
        low.Meters >= from.Meters - Openings.EdgeToleranceM && high.Meters <= to.Meters + Openings.EdgeToleranceM;

    // A cupboard lies within its host, which gave it the space; beyond that no two zones share any.
    private static bool Overlap(Design design, Zone a, Zone b) =>
        a.Cupboard?.HostZoneId != b.Id
        && b.Cupboard?.HostZoneId != a.Id
        && Overlap(a.From.Meters, a.To.Meters, b.From.Meters, b.To.Meters)
        && Overlap(a.Bottom.Meters, a.Top.Meters, b.Bottom.Meters, b.Top.Meters)
        && Overlap(Across(design.Body, a).Low, Across(design.Body, a).High, Across(design.Body, b).Low, Across(design.Body, b).High);

    private static (double Low, double High) Across(Body body, Zone zone)
    {
        double widthM = body.InteriorWidth.Meters;
        return zone.Cupboard switch
        {
            null => (0, widthM),
            { Wall: Face.Right } place => (widthM - place.Depth.Meters, widthM),
            CupboardPlace place => (0, place.Depth.Meters),
        };
    }

    private static bool Overlap(double lowA, double highA, double lowB, double highB) =>
        Math.Min(highA, highB) - Math.Max(lowA, lowB) > Openings.EdgeToleranceM;

    private static void CheckPassages(Design design, ErrorList errors)
    {
        errors.UniqueIds("passages", design.Passages.Select(passage => passage.Id));
        foreach (Passage passage in design.Passages)
        {
            string path = $"passages[{passage.Id}]";
            errors.ZoneExists(design, path + ".zoneA", passage.ZoneA);
            errors.ZoneExists(design, path + ".zoneB", passage.ZoneB);
            if (passage.ZoneA == passage.ZoneB)
            {
                errors.Add(path + ".zoneB", "The passage leads back into the same zone; expected two different zones.");
            }

            errors.Range(path + ".freeArea", DesignLimits.PassageFreeArea, passage.FreeArea.SquareMeters);
            errors.Range(path + ".mixing", DesignLimits.PassageMixing, passage.Mixing.CubicMetersPerHour);
            double height = design.Body.InteriorHeight.Meters;
            if (!(passage.Bottom.Meters >= -Openings.EdgeToleranceM && passage.Top.Meters >= passage.Bottom.Meters
                && passage.Top.Meters <= height + Openings.EdgeToleranceM))
            {
                errors.Add(
                    path + ".bottom",
                    "The passage reaches from {0} to {1}; expected a lower and an upper edge between {2} and {3}.",
                    passage.Bottom, passage.Top, Length.Zero, design.Body.InteriorHeight);
            }
        }
    }

    private static void CheckOpenings(Design design, ErrorList errors)
    {
        errors.UniqueIds("openings", design.Openings.Select(opening => opening.Id));
        foreach (Opening opening in design.Openings)
        {
            string path = $"openings[{opening.Id}]";
            errors.Range(path + ".length", DesignLimits.OpeningLength, opening.Length.Meters);
            errors.Range(path + ".width", DesignLimits.OpeningWidth, opening.Width.Meters);
            errors.Range(path + ".freeShare", DesignLimits.OpeningFreeShare, opening.FreeShare);
            CheckInsideFace(design.Body, FaceBox.Of(opening), path, errors);
            if (errors.ZoneExists(design, path + ".zoneId", opening.ZoneId))
            {
                Zone zone = design.Zones.First(z => z.Id == opening.ZoneId);
                if (!Openings.Reaches(design, zone, opening.Face, opening.X.Meters, opening.Z.Meters))
                {
                    errors.Add(path + ".zoneId", $"{opening.Name} does not lie on the outside of {zone.Name}; expected the zone at its place.");
                }
            }

            if (opening.Facts.Fixed && opening.Position != Position.Full)
            {
                errors.Add(path + ".position", $"{opening.Name} cannot be shut; expected full.");
            }

            if (opening.Facts is { RainSensor: true, UsableInRain: true })
            {
                errors.Add(path + ".facts.usableInRain", $"A rain sensor shuts {opening.Name}, so it does not stay open in rain; expected one or the other.");
            }

            if (opening.Fan is Fan fan)
            {
                if (fan.SoundDba is double sound)
                {
                    errors.Range(path + ".fan.soundDba", DesignLimits.FanSound, sound);
                }

                errors.Range(path + ".fan.freeAirFlow", DesignLimits.FanFreeAirFlow, fan.FreeAirFlow.CubicMetersPerSecond);
                errors.Range(path + ".fan.shutOffPressure", DesignLimits.FanShutOffPressure, fan.ShutOffPressure.Pascals);
                // Below its lowest speed a fan stands still; off is the speed 0.
                if (fan.Speed != 0)
                {
                    errors.Range(path + ".fan.speed", DesignLimits.FanSpeed, fan.Speed);
                }
            }
        }

        for (int first = 0; first < design.Openings.Length; first++)
        {
            for (int second = first + 1; second < design.Openings.Length; second++)
            {
                Opening a = design.Openings[first];
                Opening b = design.Openings[second];
                if (FaceBox.Of(a).Overlaps(FaceBox.Of(b)))
                {
                    errors.Add($"openings[{b.Id}].x", $"{b.Name} overlaps {a.Name}; expected openings side by side.");
                }
            }
        }
    }

    private static void CheckInsideFace(Body body, FaceBox box, string path, ErrorList errors)
    {
        bool endFace = box.Face is Face.Nose or Face.Tail;
        bool level = box.Face is Face.Roof or Face.Floor;
        errors.Inside(
            path + (endFace ? ".y" : ".x"), box.AlongLowM, box.AlongHighM,
            endFace ? body.InteriorWidth.Meters : body.InteriorLength.Meters,
            endFace ? "the van's width" : "the van's length");
        errors.Inside(
            path + (level ? ".y" : ".z"), box.AcrossLowM, box.AcrossHighM,
            level ? body.InteriorWidth.Meters : body.InteriorHeight.Meters,
            level ? "the van's width" : "the van's height");
    }

    private static void CheckGlassAndMetal(Design design, ErrorList errors)
    {
        errors.UniqueIds("glazings", design.Glazings.Select(glazing => glazing.Id));
        foreach (Glazing glazing in design.Glazings)
        {
            string path = $"glazings[{glazing.Id}]";
            errors.Range(path + ".area", DesignLimits.GlazingArea, glazing.Area.SquareMeters);
            errors.ZoneExists(design, path + ".zoneId", glazing.ZoneId);
        }

        errors.UniqueIds("bareMetal", design.BareMetal.Select(patch => patch.Id));
        foreach (MetalPatch patch in design.BareMetal)
        {
            string path = $"bareMetal[{patch.Id}]";
            errors.Range(path + ".area", DesignLimits.BareMetalArea, patch.Area.SquareMeters);
            errors.ZoneExists(design, path + ".zoneId", patch.ZoneId);
        }

        foreach (Zone zone in design.Zones)
        {
            foreach (Face face in Enum.GetValues<Face>())
            {
                double faceM2 = ZoneFaces.AreaM2(design, zone, face);
                double takenM2 = design.Glazings.Where(g => g.ZoneId == zone.Id && g.Face == face).Sum(g => g.Area.SquareMeters)
                    + design.Openings.Where(o => o.ZoneId == zone.Id && o.Face == face).Sum(o => o.Length.Meters * o.Width.Meters);
                // A body with a negative side is named above; here it must not make room for an error about nothing.
                if (takenM2 > Math.Max(faceM2, 0) + 1e-6)
                {
                    string path = design.Glazings.FirstOrDefault(g => g.ZoneId == zone.Id && g.Face == face) is Glazing glazing
                        ? $"glazings[{glazing.Id}].area"
                        : $"openings[{design.Openings.First(o => o.ZoneId == zone.Id && o.Face == face).Id}].length";
                    errors.Add(path, string.Create(
                        CultureInfo.InvariantCulture,
                        $"Glass and openings take {takenM2:G4} m² of the {FaceWord(face)} at {zone.Name}; expected at most its {faceM2:G4} m²."));
                }
            }

            double metalM2 = design.BareMetal.Where(patch => patch.ZoneId == zone.Id).Sum(patch => patch.Area.SquareMeters);
            double freeM2 = ZoneFaces.OpaqueM2(design, zone);
            if (metalM2 > Math.Max(freeM2, 0) + 1e-6)
            {
                errors.Add($"bareMetal[{design.BareMetal.First(patch => patch.ZoneId == zone.Id).Id}].area", string.Create(
                    CultureInfo.InvariantCulture,
                    $"Bare metal at {zone.Name} is {metalM2:G4} m²; expected at most the {freeM2:G4} m² of body that is not glass."));
            }
        }
    }

    private static string FaceWord(Face face) => face switch
    {
        Face.Roof => "roof",
        Face.Floor => "floor",
        Face.Left => "left wall",
        Face.Right => "right wall",
        Face.Nose => "nose",
        Face.Tail => "rear doors",
        _ => throw new ArgumentOutOfRangeException(nameof(face), face, "Expected a face of the body."),
    };

    private static void CheckAssembly(LayeredAssembly assembly, string path, ErrorList errors)
    {
        bool wrong = !AssemblyRules.Problems(assembly).IsEmpty;
        if (!wrong && !AssemblyRules.Problems(LaterParts.Now(assembly)).IsEmpty)
        {
            errors.Add(path + ".layers", "Everything with a thickness comes later; expected at least one such layer that is there now.");
        }

        foreach (AssemblyProblem problem in AssemblyRules.Problems(assembly))
        {
            string place = problem.LayerId is null ? path : $"{path}.layers[{problem.LayerId}]";
            errors.Add($"{place}.{JsonName(problem.Field)}", problem.Message);
        }
    }

    private static string JsonName(string member) => char.ToLowerInvariant(member[0]) + member[1..];

    private static void CheckUse(Design design, ErrorList errors)
    {
        if (design.Heater.Kind != HeaterKind.None)
        {
            errors.Range("heater.ratedOutput", DesignLimits.HeaterOutput, (double)design.Heater.RatedOutput.Kilowatts);
        }

        errors.Range("heater.nightSetPoint", DesignLimits.NightSetPoint, design.Heater.NightSetPoint.DegreesCelsius);
        errors.Range("heater.daySetPoint", DesignLimits.DaySetPoint, design.Heater.DaySetPoint.DegreesCelsius);
        errors.ZoneExists(design, "heater.zoneId", design.Heater.ZoneId);
        errors.Range("household.sleepers", DesignLimits.Sleepers, design.Household.Sleepers);
        errors.Range("household.animals", DesignLimits.Animals, design.Household.Animals);
        errors.Range("household.showersPerDay", DesignLimits.ShowersPerDay, design.Household.ShowersPerDay);
        errors.Range("household.hotDrinksPerDay", DesignLimits.HotDrinksPerDay, design.Household.HotDrinksPerDay);
        errors.Range("household.plants", DesignLimits.Plants, design.Household.Plants);
        CheckPlace(design, design.Stop.PlaceKey, "stop.placeKey", errors);

        errors.Range("stop.month", DesignLimits.Month, design.Stop.Month);
        errors.Range("stop.altitude", DesignLimits.Altitude, design.Stop.Altitude.Meters);
        CheckNight(design, errors);
    }

    private static void CheckPlace(Design design, string key, string path, ErrorList errors)
    {
        if (!ClimateTable.Contains(key) && design.OwnPlaces.All(place => place.Key() != key))
        {
            errors.Add(path, $"There is no place '{key}' in the climate table and none of the van's own; expected the key of one.");
        }
    }

    private static void CheckItinerary(Design design, ErrorList errors)
    {
        errors.UniqueIds("itinerary", design.Itinerary.Select(stay => stay.Id));
        foreach (ItineraryStop stay in design.Itinerary)
        {
            string path = $"itinerary[{stay.Id}]";
            CheckPlace(design, stay.PlaceKey, path + ".placeKey", errors);

            errors.Range(path + ".altitude", DesignLimits.Altitude, stay.Altitude.Meters);
            bool dated = CheckDay(stay.From, path + ".from", errors) & CheckDay(stay.To, path + ".to", errors);
            if (dated && DesignPlaces.Contains(design, stay.PlaceKey) && DesignLimits.Altitude.Contains(stay.Altitude.Meters))
            {
                CheckCold(design, StayWeather.Of(design, stay, Assumptions.Likely).DesignTemperature.DegreesCelsius, stay, path + ".altitude", errors);
            }
        }

        if (design.Itinerary.All(stay => YearCalendar.Contains(stay.From) && YearCalendar.Contains(stay.To)))
        {
            CheckWholeYear(design.Itinerary, errors);
        }
    }

    private static bool CheckDay(MonthDay day, string path, ErrorList errors)
    {
        bool exists = YearCalendar.Contains(day);
        if (!exists)
        {
            errors.Add(path, string.Create(
                CultureInfo.InvariantCulture, $"There is no day {day.Day} in month {day.Month}; expected a day of a year of 365 days."));
        }

        return exists;
    }

    // Each day belongs to one stay: the first that begins too early or too late after the one before is named.
    private static void CheckWholeYear(ImmutableArray<ItineraryStop> stays, ErrorList errors)
    {
        bool[] taken = new bool[YearWeather.Days];
        foreach (ItineraryStop stay in stays)
        {
            int twice = Itineraries.Days(stay).Where(day => taken[day]).DefaultIfEmpty(-1).First();
            if (twice >= 0)
            {
                errors.Add($"itinerary[{stay.Id}].from", $"Another stay already covers {DateWords(twice)}; expected each day in one stay.");
            }

            foreach (int day in Itineraries.Days(stay))
            {
                taken[day] = true;
            }
        }

        int empty = Array.IndexOf(taken, false);
        if (!stays.IsEmpty && empty >= 0)
        {
            errors.Add("itinerary", $"No stay covers {DateWords(empty)}; expected stays through the whole year.");
        }
    }

    private static string DateWords(int day)
    {
        MonthDay date = YearCalendar.Date(day);
        return string.Create(CultureInfo.InvariantCulture, $"{date.Day} {CultureInfo.InvariantCulture.DateTimeFormat.GetMonthName(date.Month)}");
    }

    private static void CheckCirculationFans(Design design, ErrorList errors)
    {
        errors.UniqueIds("circulationFans", design.CirculationFans.Select(fan => fan.Id));
        foreach (CirculationFan fan in design.CirculationFans)
        {
            string path = $"circulationFans[{fan.Id}]";
            errors.ZoneExists(design, path + ".zoneA", fan.ZoneA);
            errors.ZoneExists(design, path + ".zoneB", fan.ZoneB);
            if (fan.ZoneA == fan.ZoneB)
            {
                errors.Add(path + ".zoneB", "The fan blows back into the same zone; expected two different zones.");
            }

            errors.Range(path + ".flow", DesignLimits.CirculationFlow, fan.Flow.CubicMetersPerHour);
            errors.Range(path + ".electricDraw", DesignLimits.CirculationDraw, (double)fan.ElectricDraw.Watts);
        }
    }

    private static void CheckEquipment(Design design, ErrorList errors)
    {
        Equipment equipment = design.Equipment;
        errors.Range("equipment.waysOutOfBed", DesignLimits.WaysOutOfBed, equipment.WaysOutOfBed);
        errors.Range("equipment.batteryUsable", DesignLimits.BatteryUsable, equipment.BatteryUsable.KilowattHours);
        if (equipment.BatteryZoneId is string batteryZone)
        {
            errors.ZoneExists(design, "equipment.batteryZoneId", batteryZone);
        }

        if (equipment.WaterZoneId is string waterZone)
        {
            errors.ZoneExists(design, "equipment.waterZoneId", waterZone);
        }

        if (equipment.HeaterRatedAltitude is Length altitude)
        {
            errors.Range("equipment.heaterRatedAltitude", DesignLimits.HeaterRatedAltitude, altitude.Meters);
        }

        if (equipment.GasLocker is BodyPoint locker)
        {
            CheckOnFace(design.Body, locker, "equipment.gasLocker", errors);
        }

        if (equipment.HeaterExhaust is BodyPoint exhaust)
        {
            CheckOnFace(design.Body, exhaust, "equipment.heaterExhaust", errors);
        }
    }

    // What ends under the van or low on its side lies below the finished floor, but not below the ground.
    private static void CheckOnFace(Body body, BodyPoint point, string path, ErrorList errors)
    {
        bool endFace = point.Face is Face.Nose or Face.Tail;
        if (!endFace)
        {
            Within(path + ".x", point.X.Meters, 0, body.InteriorLength.Meters, "the van's length");
        }

        if (point.Face is not (Face.Left or Face.Right))
        {
            Within(path + ".y", point.Y.Meters, 0, body.InteriorWidth.Meters, "the van's width");
        }

        if (point.Face is not (Face.Roof or Face.Floor))
        {
            Within(path + ".z", point.Z.Meters, -body.FloorAboveGround.Meters, body.InteriorHeight.Meters, "the height from the ground to the roof");
        }

        void Within(string place, double valueM, double lowM, double highM, string what)
        {
            if (!(valueM >= lowM - Openings.EdgeToleranceM && valueM <= highM + Openings.EdgeToleranceM))
            {
                errors.Add(
                    place,
                    "It lies at {0}; expected a point within " + what + ", {1} to {2}.",
                    Length.FromMeters(valueM), Length.FromMeters(lowM), Length.FromMeters(highM));
            }
        }
    }

    // A polar station taken up a mountain, on paper, leaves the range in which the properties of moist air are known.
    private static void CheckNight(Design design, ErrorList errors)
    {
        Stop stop = design.Stop;
        if (!DesignPlaces.Contains(design, stop.PlaceKey) || !DesignLimits.Month.Contains(stop.Month) || !DesignLimits.Altitude.Contains(stop.Altitude.Meters))
        {
            return;
        }

        // Without an itinerary the year is spent at the stop.
        ItineraryStop? wholeYear = design.Itinerary.IsEmpty ? Itineraries.Stays(design)[0] : null;
        CheckCold(design, Nights.ColdestC(design), wholeYear, "stop.altitude", errors);
    }

    private static void CheckCold(Design design, double nightC, ItineraryStop? stay, string path, ErrorList errors)
    {
        double limitC = MoistAir.TemperatureRange.Minimum;
        if (nightC < limitC)
        {
            AddCold("night", nightC, path, errors);
        }
        // A measured year's coldest hour may lie far below its cold nights.
        else if (stay is not null && (nightC < limitC + SnapBelowNightK || DesignPlaces.HourFileOf(design, stay.PlaceKey) is not null))
        {
            double hourC = StayWeather.ColdestHourC(design, stay, Assumptions.Likely);
            if (hourC < limitC)
            {
                AddCold("hour", hourC, path, errors);
            }
        }
    }

    private static void AddCold(string what, double coldestC, string path, ErrorList errors) => errors.Add(
        path,
        "The coldest " + what + " at this altitude would have {0}; expected an altitude where it stays above {1}.",
        Temperature.FromDegreesCelsius(coldestC), Temperature.FromDegreesCelsius(MoistAir.TemperatureRange.Minimum));
}
