using System.Collections.Immutable;
using System.Globalization;
using ConsultDesk.Calculations.Air;
using ConsultDesk.Calculations.Climate;
using ConsultDesk.Calculations.Envelope;

namespace ConsultDesk.Calculations.Vehicle;

/// <summary>One thing wrong with a design.</summary>
/// <param name="Path">The field, for example <c>openings[roof-fan].length</c>: member names in camelCase, list members by id.</param>
/// <param name="Message">What is wrong and what was expected.</param>
public sealed record DesignError(string Path, string Message);

/// <summary>Says what is wrong with a design. A shut van is nothing wrong.</summary>
public static class DesignCheck
{
    /// <summary>Everything wrong with the design, in the order of its fields; empty when it can be calculated.</summary>
    public static ImmutableArray<DesignError> Errors(Design design)
    {
        ErrorList errors = new();
        CheckBody(design.Body, errors);
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
            double boxM3 = (zone.To.Meters - zone.From.Meters) * (zone.Top.Meters - zone.Bottom.Meters) * design.Body.InteriorWidth.Meters;
            if (zone.AirVolume.CubicMeters > boxM3 * 1.001)
            {
                errors.Add(path + ".airVolume", string.Create(
                    CultureInfo.InvariantCulture,
                    $"Air volume is {zone.AirVolume.CubicMeters:G4} m³; expected at most the {boxM3:G4} m³ of the zone's box."));
            }
        }

        for (int first = 0; first < design.Zones.Length; first++)
        {
            for (int second = first + 1; second < design.Zones.Length; second++)
            {
                if (Overlap(design.Zones[first], design.Zones[second]))
                {
                    errors.Add(
                        $"zones[{design.Zones[second].Id}].from",
                        $"{design.Zones[second].Name} and {design.Zones[first].Name} take up the same space; expected zones side by side.");
                }
            }
        }
    }

    private static bool Overlap(Zone a, Zone b) =>
        Overlap(a.From.Meters, a.To.Meters, b.From.Meters, b.To.Meters)
        && Overlap(a.Bottom.Meters, a.Top.Meters, b.Bottom.Meters, b.Top.Meters);

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
                errors.Add(path + ".bottom", string.Create(
                    CultureInfo.InvariantCulture,
                    $"The passage reaches from {passage.Bottom.Meters:G4} to {passage.Top.Meters:G4} m; expected a lower and an upper edge between 0 and {height:G4} m."));
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
            CheckInsideFace(design.Body, opening, path, errors);
            if (errors.ZoneExists(design, path + ".zoneId", opening.ZoneId))
            {
                Zone zone = design.Zones.First(z => z.Id == opening.ZoneId);
                if (!Openings.Reaches(design.Body, zone, opening.Face, opening.X.Meters, opening.Z.Meters))
                {
                    errors.Add(path + ".zoneId", $"{opening.Name} does not lie on the outside of {zone.Name}; expected the zone at its place.");
                }
            }

            if (opening.Facts.Fixed && opening.Position != Position.Full)
            {
                errors.Add(path + ".position", $"{opening.Name} cannot be shut; expected full.");
            }

            if (opening.Fan is Fan fan)
            {
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
                if (a.Face == b.Face && Overlap(Along(a), Along(b)) && Overlap(Across(a), Across(b)))
                {
                    errors.Add($"openings[{b.Id}].x", $"{b.Name} overlaps {a.Name}; expected openings side by side.");
                }
            }
        }
    }

    private static bool Overlap((double Low, double High) a, (double Low, double High) b) => Overlap(a.Low, a.High, b.Low, b.High);

    private static void CheckInsideFace(Body body, Opening opening, string path, ErrorList errors)
    {
        (double low, double high) = Along(opening);
        (double acrossLow, double acrossHigh) = Across(opening);
        bool endFace = opening.Face is Face.Nose or Face.Tail;
        bool level = opening.Face is Face.Roof or Face.Floor;
        errors.Inside(
            path + (endFace ? ".y" : ".x"), low, high,
            endFace ? body.InteriorWidth.Meters : body.InteriorLength.Meters,
            endFace ? "the van's width" : "the van's length");
        errors.Inside(
            path + (level ? ".y" : ".z"), acrossLow, acrossHigh,
            level ? body.InteriorWidth.Meters : body.InteriorHeight.Meters,
            level ? "the van's width" : "the van's height");
    }

    // Extent along the face's long direction: across the van on nose and tail, along it elsewhere.
    private static (double Low, double High) Along(Opening opening) =>
        Extent(opening.Face is Face.Nose or Face.Tail ? opening.Y.Meters : opening.X.Meters, opening.Length.Meters);

    private static (double Low, double High) Across(Opening opening) =>
        Extent(opening.Face is Face.Roof or Face.Floor ? opening.Y.Meters : opening.Z.Meters, opening.Width.Meters);

    private static (double Low, double High) Extent(double centre, double size) => (centre - (size / 2), centre + (size / 2));

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
                double faceM2 = ZoneFaces.AreaM2(design.Body, zone, face);
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
        foreach (AssemblyProblem problem in AssemblyRules.Problems(assembly))
        {
            string place = problem.LayerId is null ? path : $"{path}.layers[{problem.LayerId}]";
            errors.Add($"{place}.{JsonName(problem.Field)}", problem.Message);
        }
    }

    private static string JsonName(string member) => char.ToLowerInvariant(member[0]) + member[1..];

    private static void CheckUse(Design design, ErrorList errors)
    {
        errors.Range("heater.ratedOutput", DesignLimits.HeaterOutput, (double)design.Heater.RatedOutput.Kilowatts);
        errors.Range("heater.nightSetPoint", DesignLimits.NightSetPoint, design.Heater.NightSetPoint.DegreesCelsius);
        errors.ZoneExists(design, "heater.zoneId", design.Heater.ZoneId);
        errors.Range("household.sleepers", DesignLimits.Sleepers, design.Household.Sleepers);
        if (!ClimateTable.Contains(design.Stop.PlaceKey))
        {
            errors.Add("stop.placeKey", $"There is no place '{design.Stop.PlaceKey}' in the climate table; expected one of its keys.");
        }

        errors.Range("stop.month", DesignLimits.Month, design.Stop.Month);
        errors.Range("stop.altitude", DesignLimits.Altitude, design.Stop.Altitude.Meters);
        CheckNight(design.Stop, errors);
    }

    // A polar station taken up a mountain, on paper, leaves the range in which the properties of moist air are known.
    private static void CheckNight(Stop stop, ErrorList errors)
    {
        if (!ClimateTable.Contains(stop.PlaceKey) || !DesignLimits.Month.Contains(stop.Month) || !DesignLimits.Altitude.Contains(stop.Altitude.Meters))
        {
            return;
        }

        double coldestC = Nights.ColdestC(stop);
        if (coldestC < MoistAir.TemperatureRange.Minimum)
        {
            errors.Add("stop.altitude", string.Create(
                CultureInfo.InvariantCulture,
                $"The coldest night at this altitude would have {coldestC:F0} °C; expected an altitude where it stays above {MoistAir.TemperatureRange.Minimum:F0} °C."));
        }
    }

    private sealed class ErrorList
    {
        private readonly ImmutableArray<DesignError>.Builder _errors = ImmutableArray.CreateBuilder<DesignError>();

        public ImmutableArray<DesignError> ToImmutable() => _errors.ToImmutable();

        public void Add(string path, string message) => _errors.Add(new DesignError(path, message));

        public void Range(string path, ValidRange range, double value)
        {
            if (!range.Contains(value))
            {
                Add(path, range.Message(value));
            }
        }

        public void UniqueIds(string path, IEnumerable<string> ids)
        {
            foreach (IGrouping<string, string> group in ids.GroupBy(id => id).Where(group => group.Key.Length == 0 || group.Count() > 1))
            {
                Add(path, group.Key.Length == 0 ? "An id is empty; expected a short name." : $"The id '{group.Key}' is used {group.Count()} times; expected unique ids.");
            }
        }

        public bool ZoneExists(Design design, string path, string zoneId)
        {
            bool exists = design.Zones.Any(zone => zone.Id == zoneId);
            if (!exists)
            {
                Add(path, $"There is no zone '{zoneId}'; expected one of {string.Join(", ", design.Zones.Select(zone => zone.Id))}.");
            }

            return exists;
        }

        public void Inside(string path, double low, double high, double limit, string what)
        {
            if (!(low >= -Openings.EdgeToleranceM && high > low && high <= limit + Openings.EdgeToleranceM))
            {
                Add(path, string.Create(
                    CultureInfo.InvariantCulture,
                    $"It reaches from {low * 1000:0} to {high * 1000:0} mm; expected a stretch inside {what}, 0 to {limit * 1000:0} mm."));
            }
        }
    }
}
