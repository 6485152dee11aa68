using Microsoft.AspNetCore.DataProtection;
using Microsoft.AspNetCore.Identity;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.DependencyInjection.Extensions;

namespace ConsultDesk.Records;

/// <summary>Adds the records to an app.</summary>
public static class RecordsRegistration
{
    /// <summary>
    /// Registers the store, the classes that ask and act (all singletons, each call opens its own context), the
    /// scoped <see cref="DeskContext"/> that Identity's stores need, the claims of a <see cref="DeskUser"/> and the
    /// signing keys kept in the database. Call <see cref="DeskStore.Migrate"/> before listening.
    /// </summary>
    public static IServiceCollection AddRecords(this IServiceCollection services, StoreKind kind, string connection)
    {
        services.TryAddSingleton(TimeProvider.System);
        services.Configure<IdentityOptions>(DeskStore.Identity);
        // Registers the factory as a singleton and the context itself as scoped.
        services.AddDbContextFactory<DeskContext>(builder => builder.UseDeskStore(kind, connection));
        services.AddSingleton<FirmContexts>();
        services.AddSingleton<Firms>();
        services.AddSingleton<UnitBook>();
        services.AddSingleton<FirmLogos>();
        services.AddSingleton<ClientBook>();
        services.AddSingleton<VanBook>();
        services.AddSingleton<DeskList>();
        services.AddSingleton<VanOptions>();
        services.AddSingleton<SearchBook>();
        services.AddSingleton<Plans>();
        services.AddSingleton<PlanReplies>();
        services.AddSingleton<FirmPrices>();
        services.AddSingleton<WeatherFiles>();
        services.AddSingleton<WishesBook>();
        services.AddSingleton<ConsultBook>();
        services.AddSingleton<AgendaTemplates>();
        services.AddSingleton<OwnSituations>();
        services.AddSingleton<DecisionBook>();
        services.AddSingleton<DeclinedAdviceBook>();
        services.AddSingleton<FollowUps>();
        services.AddSingleton<Intakes>();
        services.AddSingleton<IntakeDoor>();
        services.AddSingleton<HandingOver>();
        services.AddSingleton<Erasures>();
        services.AddSingleton<InstallationBook>();
        services.AddSingleton<CheckBacks>();
        services.AddSingleton<Timeline>();
        services.AddSingleton<AuditTrail>();
        services.AddSingleton<People>();
        services.AddScoped<FirstFirm>();
        services.AddScoped<InvitationDoor>();
        services.AddScoped<OwnAccount>();
        services.AddScoped<IUserStore<DeskUser>, DeskUserStore>();
        services.AddScoped<IUserClaimsPrincipalFactory<DeskUser>, DeskClaims>();
        services.AddDataProtection().SetApplicationName("ConsultDesk").PersistKeysToDbContext<DeskContext>();
        return services;
    }
}
