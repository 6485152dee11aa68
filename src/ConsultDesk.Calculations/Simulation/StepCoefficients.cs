namespace ConsultDesk.Calculations.Simulation;

/// <summary>
/// What of the heat balance depends only on the length of the step and on whether covers hang: faces, skins and
/// furniture eliminated from the zones' equations by backward Euler. Made once, shared by all steps of that kind.
/// </summary>
/// <remarks>
/// Face: H Ts = (c/dt) Ts' + hi T + ho Te + sun + L g, H = c/dt + hi + ho. Lining and skin: the skin first,
/// Hk Tk = (ck/dt) Tk' + Gm Ts + Go Te + sun + L gk, then the lining with H = c/dt + hi + Gm (ck/dt + Go)/Hk.
/// </remarks>
internal sealed class StepCoefficients
{
    public StepCoefficients(VanModel van, double stepS, bool covered)
    {
        VanModel.FacePaths paths = covered ? van.Covered : van.Bare;
        int faces = van.FaceCount;
        int first = van.FirstLining;
        StepS = stepS;
        Covered = covered;
        CoverVapour = paths.CoverVapour;
        FaceSky = paths.Sky;
        FaceStore = new double[faces];
        FaceOut = new double[faces];
        FaceIn = paths.InWPerM2K;
        FaceInverse = new double[faces];
        FaceToZone = new double[faces];
        SkinStore = new double[van.SkinCount];
        SkinInverse = new double[van.SkinCount];
        SkinToFace = new double[van.SkinCount];
        SkinResponse = new double[van.SkinCount];
        SkinToZone = new double[van.SkinCount];
        ZoneDiagonal = new double[van.ZoneCount];
        MassShare = new double[van.ZoneCount];
        MassStore = new double[van.ZoneCount];
        MassInverse = new double[van.ZoneCount];
        for (int i = 0; i < van.ZoneCount; i++)
        {
            MassStore[i] = van.MassJPerK[i] / stepS;
            MassInverse[i] = 1 / (MassStore[i] + van.MassWPerK[i]);
            MassShare[i] = van.MassWPerK[i] * MassInverse[i];
            ZoneDiagonal[i] = (van.LightJPerK[i] / stepS) + van.Night.OtherLossWPerK[i] + (MassStore[i] * MassShare[i]);
        }

        for (int k = 0; k < faces; k++)
        {
            double inside = paths.InWPerM2K[k];
            FaceStore[k] = van.FaceJPerM2K[k] / stepS;
            double beyond;
            if (k < first)
            {
                FaceOut[k] = paths.OutWPerM2K[k];
                beyond = FaceStore[k] + FaceOut[k];
            }
            else
            {
                int j = k - first;
                SkinStore[j] = van.SkinJPerM2K[j] / stepS;
                SkinInverse[j] = 1 / (SkinStore[j] + van.SkinWPerM2K[j] + van.SkinOutWPerM2K[j]);
                SkinToFace[j] = van.SkinWPerM2K[j] * SkinInverse[j];
                beyond = FaceStore[k] + (SkinToFace[j] * (SkinStore[j] + van.SkinOutWPerM2K[j]));
                SkinResponse[j] = SkinInverse[j] + (SkinToFace[j] * SkinToFace[j] / (inside + beyond));
            }

            FaceInverse[k] = 1 / (inside + beyond);
            FaceToZone[k] = inside * van.FaceM2[k] * FaceInverse[k];
            ZoneDiagonal[van.FaceZone[k]] += FaceToZone[k] * beyond;
            if (k >= first)
            {
                SkinToZone[k - first] = FaceToZone[k] * SkinToFace[k - first];
            }
        }
    }

    /// <summary>Length of the step.</summary>
    public double StepS { get; }

    /// <summary>Covers hang before the glass.</summary>
    public bool Covered { get; }

    /// <summary>Vapour that passes the edge of each face's cover, kg/(m2 s Pa).</summary>
    public double[] CoverVapour { get; }

    /// <summary>Share of the level loss to the sky that reaches each face; unused for linings.</summary>
    public double[] FaceSky { get; }

    /// <summary>c/dt of each face, W/(m2 K).</summary>
    public double[] FaceStore { get; }

    /// <summary>hi of each face, W/(m2 K).</summary>
    public double[] FaceIn { get; }

    /// <summary>ho of each face, 0 for linings, W/(m2 K).</summary>
    public double[] FaceOut { get; }

    /// <summary>1/H of each face, m2 K/W: how much its own latent heat warms it.</summary>
    public double[] FaceInverse { get; }

    /// <summary>Area times hi/H: heat set free at the face that goes to the zone, per W/m2.</summary>
    public double[] FaceToZone { get; }

    /// <summary>ck/dt of each skin, W/(m2 K).</summary>
    public double[] SkinStore { get; }

    /// <summary>1/Hk of each skin.</summary>
    public double[] SkinInverse { get; }

    /// <summary>Gm/Hk: share of what happens at the skin that the lining feels.</summary>
    public double[] SkinToFace { get; }

    /// <summary>Warming of the skin per W/m2 set free at it, m2 K/W.</summary>
    public double[] SkinResponse { get; }

    /// <summary>Heat set free at a skin that goes to the zone, per W/m2, m2.</summary>
    public double[] SkinToZone { get; }

    /// <summary>Diagonal of the heat balance without air flows, W/K.</summary>
    public double[] ZoneDiagonal { get; }

    /// <summary>c/dt of furniture and stores, W/K.</summary>
    public double[] MassStore { get; }

    /// <summary>1/(c/dt + coupling) of furniture and stores, K/W.</summary>
    public double[] MassInverse { get; }

    /// <summary>Coupling over (c/dt + coupling).</summary>
    public double[] MassShare { get; }
}
