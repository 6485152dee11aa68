using System;
using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace ConsultDesk.Migrations.Postgres.Migrations
{
    /// <inheritdoc />
    public partial class TheClientsSide : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.AddColumn<string>(
                name: "TonightText",
                table: "Plans",
                type: "text",
                nullable: true);

            migrationBuilder.AddColumn<string>(
                name: "Email",
                table: "Firms",
                type: "character varying(254)",
                maxLength: 254,
                nullable: false,
                defaultValue: "");

            migrationBuilder.AddColumn<string>(
                name: "Paper",
                table: "Firms",
                type: "character varying(20)",
                maxLength: 20,
                nullable: false,
                defaultValue: "A4");

            migrationBuilder.AddColumn<bool>(
                name: "PricesIncludeTax",
                table: "Firms",
                type: "boolean",
                nullable: false,
                defaultValue: true);

            migrationBuilder.AddColumn<string>(
                name: "TaxName",
                table: "Firms",
                type: "character varying(100)",
                maxLength: 100,
                nullable: false,
                defaultValue: "");

            migrationBuilder.AddColumn<double>(
                name: "TaxPercent",
                table: "Firms",
                type: "double precision",
                nullable: false,
                defaultValue: 0.0);

            migrationBuilder.AddColumn<string>(
                name: "Terms",
                table: "Firms",
                type: "character varying(20000)",
                maxLength: 20000,
                nullable: false,
                defaultValue: "");

            migrationBuilder.AddColumn<string>(
                name: "Agenda",
                table: "Consults",
                type: "character varying(20000)",
                maxLength: 20000,
                nullable: false,
                defaultValue: "");

            migrationBuilder.CreateTable(
                name: "AgendaTemplates",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "uuid", nullable: false),
                    Name = table.Column<string>(type: "character varying(300)", maxLength: 300, nullable: false),
                    Points = table.Column<string>(type: "character varying(20000)", maxLength: 20000, nullable: false),
                    Version = table.Column<Guid>(type: "uuid", nullable: false),
                    FirmId = table.Column<Guid>(type: "uuid", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_AgendaTemplates", x => x.Id);
                    table.ForeignKey(
                        name: "FK_AgendaTemplates_Firms_FirmId",
                        column: x => x.FirmId,
                        principalTable: "Firms",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "CheckBacks",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "uuid", nullable: false),
                    VanId = table.Column<Guid>(type: "uuid", nullable: false),
                    PlanId = table.Column<Guid>(type: "uuid", nullable: false),
                    Name = table.Column<string>(type: "character varying(300)", maxLength: 300, nullable: false),
                    FromClient = table.Column<bool>(type: "boolean", nullable: false),
                    AnswersText = table.Column<string>(type: "text", nullable: false),
                    Format = table.Column<int>(type: "integer", nullable: false),
                    At = table.Column<DateTime>(type: "timestamp with time zone", nullable: false),
                    SeenAt = table.Column<DateTime>(type: "timestamp with time zone", nullable: true),
                    Version = table.Column<Guid>(type: "uuid", nullable: false),
                    FirmId = table.Column<Guid>(type: "uuid", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_CheckBacks", x => x.Id);
                    table.ForeignKey(
                        name: "FK_CheckBacks_Firms_FirmId",
                        column: x => x.FirmId,
                        principalTable: "Firms",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "FK_CheckBacks_Plans_PlanId",
                        column: x => x.PlanId,
                        principalTable: "Plans",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "FK_CheckBacks_Vans_VanId",
                        column: x => x.VanId,
                        principalTable: "Vans",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "ErasureReceipts",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "uuid", nullable: false),
                    ClientId = table.Column<Guid>(type: "uuid", nullable: false),
                    At = table.Column<DateTime>(type: "timestamp with time zone", nullable: false),
                    ErasedBy = table.Column<Guid>(type: "uuid", nullable: false),
                    Gone = table.Column<string>(type: "text", nullable: false),
                    Stayed = table.Column<string>(type: "text", nullable: false),
                    FirmId = table.Column<Guid>(type: "uuid", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_ErasureReceipts", x => x.Id);
                    table.ForeignKey(
                        name: "FK_ErasureReceipts_Firms_FirmId",
                        column: x => x.FirmId,
                        principalTable: "Firms",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "Installations",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "uuid", nullable: false),
                    VanId = table.Column<Guid>(type: "uuid", nullable: false),
                    What = table.Column<string>(type: "character varying(500)", maxLength: 500, nullable: false),
                    DoneOn = table.Column<DateOnly>(type: "date", nullable: false),
                    Who = table.Column<string>(type: "character varying(300)", maxLength: 300, nullable: false),
                    Note = table.Column<string>(type: "character varying(20000)", maxLength: 20000, nullable: false),
                    CreatedAt = table.Column<DateTime>(type: "timestamp with time zone", nullable: false),
                    Version = table.Column<Guid>(type: "uuid", nullable: false),
                    FirmId = table.Column<Guid>(type: "uuid", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Installations", x => x.Id);
                    table.ForeignKey(
                        name: "FK_Installations_Firms_FirmId",
                        column: x => x.FirmId,
                        principalTable: "Firms",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "FK_Installations_Vans_VanId",
                        column: x => x.VanId,
                        principalTable: "Vans",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "PastPrices",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "uuid", nullable: false),
                    Table = table.Column<string>(type: "text", nullable: false),
                    From = table.Column<DateTime>(type: "timestamp with time zone", nullable: false),
                    Until = table.Column<DateTime>(type: "timestamp with time zone", nullable: false),
                    ReplacedBy = table.Column<Guid>(type: "uuid", nullable: false),
                    FirmId = table.Column<Guid>(type: "uuid", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_PastPrices", x => x.Id);
                    table.ForeignKey(
                        name: "FK_PastPrices_Firms_FirmId",
                        column: x => x.FirmId,
                        principalTable: "Firms",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "InstallationPhotos",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "uuid", nullable: false),
                    InstallationId = table.Column<Guid>(type: "uuid", nullable: false),
                    Jpeg = table.Column<byte[]>(type: "bytea", nullable: false),
                    Width = table.Column<int>(type: "integer", nullable: false),
                    Height = table.Column<int>(type: "integer", nullable: false),
                    AddedAt = table.Column<DateTime>(type: "timestamp with time zone", nullable: false),
                    FirmId = table.Column<Guid>(type: "uuid", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_InstallationPhotos", x => x.Id);
                    table.ForeignKey(
                        name: "FK_InstallationPhotos_Firms_FirmId",
                        column: x => x.FirmId,
                        principalTable: "Firms",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "FK_InstallationPhotos_Installations_InstallationId",
                        column: x => x.InstallationId,
                        principalTable: "Installations",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateIndex(
                name: "IX_AgendaTemplates_FirmId_Name",
                table: "AgendaTemplates",
                columns: new[] { "FirmId", "Name" },
                unique: true);

            migrationBuilder.CreateIndex(
                name: "IX_CheckBacks_FirmId_SeenAt",
                table: "CheckBacks",
                columns: new[] { "FirmId", "SeenAt" });

            migrationBuilder.CreateIndex(
                name: "IX_CheckBacks_PlanId",
                table: "CheckBacks",
                column: "PlanId");

            migrationBuilder.CreateIndex(
                name: "IX_CheckBacks_VanId",
                table: "CheckBacks",
                column: "VanId");

            migrationBuilder.CreateIndex(
                name: "IX_ErasureReceipts_FirmId_At",
                table: "ErasureReceipts",
                columns: new[] { "FirmId", "At" });

            migrationBuilder.CreateIndex(
                name: "IX_InstallationPhotos_FirmId",
                table: "InstallationPhotos",
                column: "FirmId");

            migrationBuilder.CreateIndex(
                name: "IX_InstallationPhotos_InstallationId",
                table: "InstallationPhotos",
                column: "InstallationId");

            migrationBuilder.CreateIndex(
                name: "IX_Installations_FirmId",
                table: "Installations",
                column: "FirmId");

            migrationBuilder.CreateIndex(
                name: "IX_Installations_VanId",
                table: "Installations",
                column: "VanId");

            migrationBuilder.CreateIndex(
                name: "IX_PastPrices_FirmId_Until",
                table: "PastPrices",
                columns: new[] { "FirmId", "Until" });
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropTable(
                name: "AgendaTemplates");

            migrationBuilder.DropTable(
                name: "CheckBacks");

            migrationBuilder.DropTable(
                name: "ErasureReceipts");

            migrationBuilder.DropTable(
                name: "InstallationPhotos");

            migrationBuilder.DropTable(
                name: "PastPrices");

            migrationBuilder.DropTable(
                name: "Installations");

            migrationBuilder.DropColumn(
                name: "TonightText",
                table: "Plans");

            migrationBuilder.DropColumn(
                name: "Email",
                table: "Firms");

            migrationBuilder.DropColumn(
                name: "Paper",
                table: "Firms");

            migrationBuilder.DropColumn(
                name: "PricesIncludeTax",
                table: "Firms");

            migrationBuilder.DropColumn(
                name: "TaxName",
                table: "Firms");

            migrationBuilder.DropColumn(
                name: "TaxPercent",
                table: "Firms");

            migrationBuilder.DropColumn(
                name: "Terms",
                table: "Firms");

            migrationBuilder.DropColumn(
                name: "Agenda",
                table: "Consults");
        }
    }
}
