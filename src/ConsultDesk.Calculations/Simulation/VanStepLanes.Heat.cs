using ConsultDesk.Calculations.Air;

namespace ConsultDesk.Calculations.Simulation;

/// <content>Heat: air flows, the zones' matrix, what drives it, and its answer with the heater.</content>
internal sealed partial class VanStep<TLane>
{
    /// <summary>Takes over air flows.</summary>
    /// <param name="transportKgPerS">Air from node j into zone i at [i * (zones + 1) + j], outside last.</param>
    public void SetAir(ReadOnlySpan<TLane> transportKgPerS)
    {
        Span<ZoneWork<TLane>> zones = _zoneWork.Span;
        Span<TLane> flow = _flow.Span;
        for (int i = 0; i < zones.Length; i++)
        {
            zones[i].ToOutside = TLane.Zero;
        }

        for (int i = 0; i < zones.Length; i++)
        {
            ReadOnlySpan<TLane> into = transportKgPerS.Slice(i * (zones.Length + 1), zones.Length + 1);
            TLane sum = TLane.Zero;
            for (int j = 0; j < zones.Length; j++)
            {
                flow[(i * zones.Length) + j] = into[j];
                zones[j].ToOutside -= into[j];
                sum += into[j];
            }

            ref ZoneWork<TLane> zone = ref zones[i];
            zone.FromOutside = into[zones.Length];
            zone.Inflow = sum + zone.FromOutside;
            zone.ToOutside += zone.Inflow;
        }

        _airChanged = true;
        _gasAirChanged = true;
    }

    // The heat matrix for these air flows and this kind of step.
    private void Factorise(StepLanes<TLane> step)
    {
        TLane cp = TLane.Of(MoistAir.DryAirHeatCapacity);
        Span<TLane> matrix = _heatFactors.Span;
        Span<TLane> flow = _flow.Span;
        Span<ZoneWork<TLane>> zones = _zoneWork.Span;
        Span<ZoneStep<TLane>> by = step.Zones.Span;
        for (int at = 0; at < matrix.Length; at++)
        {
            matrix[at] = -(cp * flow[at]);
        }

        for (int i = 0; i < zones.Length; i++)
        {
            matrix[(i * zones.Length) + i] += by[i].Diagonal + (cp * zones[i].Inflow);
            zones[i].OutdoorWPerK = (cp * zones[i].FromOutside) + by[i].OtherLossWPerK;
        }

        foreach ((int a, int b, TLane wPerK) in _batch.Partitions)
        {
            matrix[(a * zones.Length) + a] += wPerK;
            matrix[(a * zones.Length) + b] -= wPerK;
            matrix[(b * zones.Length) + b] += wPerK;
            matrix[(b * zones.Length) + a] -= wPerK;
        }

        for (int i = 0; i < zones.Length; i++)
        {
            zones[i].ZoneInverse = TLane.Of(1) / matrix[(i * zones.Length) + i];
        }

        // Inverted once for the many steps with this air.
        SmallMatrix.Factorise(matrix, zones.Length);
        SmallMatrix.Invert(matrix, _heatInverse.Span, _right.Span, zones.Length);
        for (int i = 0; i < zones.Length; i++)
        {
            zones[i].HeaterResponse = _heatInverse.Span[(i * zones.Length) + _batch.HeaterZone];
            zones[i].PerHeaterResponse = TLane.Of(1) / zones[i].HeaterResponse;
        }

        _factored = step;
        _airChanged = false;
        if (_betaPressurePa != PressurePa || _betaCovered != step.Covered)
        {
            SetVapourCoefficients(step);
        }
    }

    // Everything on the right of the heat balance but latent heat and heater.
    private void DriveHeat(StepLanes<TLane> step)
    {
        TLane outdoorC = TLane.Of(OutdoorC);
        TLane sun = TLane.Of(SunWPerM2);
        TLane sky = SkyLossWPerM2;
        Span<ZoneState<TLane>> zones = Zones;
        Span<ZoneWork<TLane>> work = _zoneWork.Span;
        Span<ZoneStep<TLane>> by = step.Zones.Span;
        for (int i = 0; i < work.Length; i++)
        {
            ref ZoneState<TLane> zone = ref zones[i];
            ref ZoneStep<TLane> coefficient = ref by[i];
            TLane furniture = TLane.MultiplyAdd(coefficient.MassStore, zone.MassC, sun * coefficient.GlassSunM2);
            furniture = TLane.MultiplyAdd(coefficient.MassStore * _carry, zone.MassDrift, furniture);
            TLane right = TLane.MultiplyAdd(coefficient.Light, TLane.MultiplyAdd(_carry, zone.AirDrift, zone.AirC), work[i].SensibleW);
            work[i].StartC = zone.AirC;
            right = TLane.MultiplyAdd(work[i].OutdoorWPerK, outdoorC, right);
            right = TLane.MultiplyAdd(sun, coefficient.OtherSunM2, right);
            right = TLane.SubtractProduct(right, sky, coefficient.OtherSkyM2);
            right = TLane.MultiplyAdd(coefficient.MassShare, furniture, right);
            right = DriveFaces(step, i, right, outdoorC, sun, sky);
            work[i].RightW = DriveLinings(step, i, right, outdoorC, sun, sky);
        }
    }

    private TLane DriveFaces(StepLanes<TLane> step, int zone, TLane right, TLane outdoorC, TLane sun, TLane sky)
    {
        Span<FaceState<TLane>> faces = Faces;
        Span<FaceWork<TLane>> work = _faceWork.Span;
        Span<FaceStep<TLane>> by = step.Faces.Span;
        int end = _batch.FaceEnd[zone];
        for (int k = zone == 0 ? 0 : _batch.FaceEnd[zone - 1]; k < end; k++)
        {
            ref FaceStep<TLane> coefficient = ref by[k];
            TLane drive = TLane.MultiplyAdd(coefficient.Store, TLane.MultiplyAdd(_carry, faces[k].SurfaceDrift, faces[k].SurfaceC), coefficient.Out * outdoorC);
            drive = TLane.SubtractProduct(TLane.MultiplyAdd(coefficient.Sun, sun, drive), coefficient.Sky, sky);
            work[k].Drive = drive;
            right = TLane.MultiplyAdd(coefficient.ToZone, drive, right);
        }

        return right;
    }

    private TLane DriveLinings(StepLanes<TLane> step, int zone, TLane right, TLane outdoorC, TLane sun, TLane sky)
    {
        Span<LiningState<TLane>> linings = Linings;
        Span<LiningWork<TLane>> work = _liningWork.Span;
        Span<LiningStep<TLane>> by = step.Linings.Span;
        int end = _batch.LiningEnd[zone];
        for (int j = zone == 0 ? 0 : _batch.LiningEnd[zone - 1]; j < end; j++)
        {
            ref LiningStep<TLane> coefficient = ref by[j];
            ref LiningState<TLane> lining = ref linings[j];
            TLane skin = TLane.MultiplyAdd(coefficient.SkinStore, TLane.MultiplyAdd(_carry, lining.SkinDrift, lining.SkinC), coefficient.SkinOut * outdoorC);
            skin = TLane.SubtractProduct(TLane.MultiplyAdd(coefficient.SkinSun, sun, skin), coefficient.SkinSky, sky);
            TLane drive = TLane.MultiplyAdd(coefficient.SkinToFace, skin, coefficient.Store * TLane.MultiplyAdd(_carry, lining.Face.SurfaceDrift, lining.Face.SurfaceC));
            work[j].SkinDrive = skin;
            work[j].Face.Drive = drive;
            right = TLane.MultiplyAdd(coefficient.ToZone, drive, right);
        }

        return right;
    }

    // Temperatures with the latent heat known so far; the heater gives what holds its zone, within what it can.
    private TLane SolveHeat()
    {
        Span<TLane> right = _right.Span;
        Span<TLane> answer = _answer.Span;
        Span<ZoneState<TLane>> zones = Zones;
        Span<ZoneWork<TLane>> work = _zoneWork.Span;
        for (int i = 0; i < work.Length; i++)
        {
            right[i] = work[i].RightW + zones[i].LatentW;
        }

        SmallMatrix.Multiply(_heatInverse.Span, right, answer, work.Length);
        int hot = _batch.HeaterZone;
        TLane watts = (SetPointC - answer[hot]) * work[hot].PerHeaterResponse;
        watts = TLane.Min(TLane.Max(watts, TLane.Zero), HeaterLimitW);
        if (TLane.AnyLess(TLane.Zero, watts))
        {
            for (int i = 0; i < work.Length; i++)
            {
                answer[i] = TLane.MultiplyAdd(watts, work[i].HeaterResponse, answer[i]);
            }
        }

        return watts;
    }

    private void Guess()
    {
        Span<TLane> answer = _answer.Span;
        Span<ZoneWork<TLane>> work = _zoneWork.Span;
        for (int i = 0; i < work.Length; i++)
        {
            work[i].GuessC = answer[i];
        }
    }

    private void TakeAir()
    {
        Span<TLane> answer = _answer.Span;
        Span<ZoneState<TLane>> zones = Zones;
        for (int i = 0; i < zones.Length; i++)
        {
            zones[i].AirC = answer[i];
        }
    }

    // Half way: mist warms the air that sheds it, and a full step could overshoot.
    private void HalfWay(TLane going)
    {
        Span<ZoneState<TLane>> zones = Zones;
        Span<ZoneWork<TLane>> work = _zoneWork.Span;
        for (int i = 0; i < work.Length; i++)
        {
            TLane half = (work[i].GuessC + zones[i].AirC) * TLane.Of(0.5);
            work[i].GuessC = TLane.Select(going, half, work[i].GuessC);
        }
    }
}
